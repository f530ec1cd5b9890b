/*
 * Pins by number.
 *
 *   BOARD_CONTROLLERS(X)  X(index, cs port, cs bit, int port, int bit, settings...)
 *   BOARD_INPUTS(X)       X(index, port, bit, pull)   pull: UP, DOWN or NONE
 *   BOARD_OUTPUTS(X)      X(index, port, bit, off)    off: RAISE or LOWER, how it is switched off
 *   BOARD_LED(X)          X(port, bit)
 *
 * There is one port only.
 */
#ifndef PINS_H
#define PINS_H

#include <stdbool.h>
#include <stdint.h>

#include "board_config.h"
#include "rp2040_registers.h"

#define ALWAYS_INLINE static inline __attribute__((always_inline))

typedef struct {
    uint8_t select;
    uint8_t interrupt;
} controller_pins;

extern const controller_pins pins_of_controllers[BOARD_CONTROLLER_COUNT];

ALWAYS_INLINE void pin_put(uint32_t pin, bool high)
{
    if (high) {
        SIO_GPIO_OUT_SET = 1u << pin;
    } else {
        SIO_GPIO_OUT_CLR = 1u << pin;
    }
}

ALWAYS_INLINE void pins_select(uint8_t controller)
{
    SIO_GPIO_OUT_CLR = 1u << pins_of_controllers[controller].select;
}

/* All of them: quicker than finding out which one it was. */
ALWAYS_INLINE void pins_deselect(void)
{
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, ...) | (1u << (cs_bit))
    SIO_GPIO_OUT_SET = 0u BOARD_CONTROLLERS(CONTROLLER);
#undef CONTROLLER
}

/* The controller holds its interrupt line low. */
ALWAYS_INLINE bool pins_int_low(uint8_t controller)
{
    return (SIO_GPIO_IN & (1u << pins_of_controllers[controller].interrupt)) == 0u;
}

/* Whether the low line of a controller ends a wait. */
void pins_heed(uint8_t controller, bool heed);

void pins_led(bool on);

#endif
