/*
 * Pins, folded from the lists in board_config.h to single instructions.
 *
 *   BOARD_CONTROLLERS(X)  X(index, cs port, cs bit, int port, int bit, cnf1, cnf2, cnf3)
 *   BOARD_INPUTS(X)       X(index, port, bit, pull)   pull: UP or NONE (the chip cannot pull down)
 *   BOARD_OUTPUTS(X)      X(index, port, bit, off)   off: RAISE or LOWER, how it is switched off
 *   BOARD_LED(X)          X(port, bit)
 */
#ifndef PINS_H
#define PINS_H

#include <avr/io.h>
#include <stdbool.h>
#include <stdint.h>

#include "board_config.h"
#include "locum_core.h"

/* With -Os the compiler would rather call functions that are shorter than the call. */
#define ALWAYS_INLINE static inline __attribute__((always_inline))

#define PIN_CHANGE_MASK_B PCMSK0
#define PIN_CHANGE_MASK_C PCMSK1
#define PIN_CHANGE_MASK_D PCMSK2

#define PIN_MASK(bit) ((uint8_t)(1u << (bit)))
#define PIN_NOT(bit) ((uint8_t)(0xFFu ^ (1u << (bit))))

#define PIN_RAISE(port, bit) (PORT##port |= PIN_MASK(bit))
#define PIN_LOWER(port, bit) (PORT##port &= PIN_NOT(bit))
#define PIN_DRIVE(port, bit) (DDR##port |= PIN_MASK(bit))
#define PIN_IS_HIGH(port, bit) ((PIN##port & PIN_MASK(bit)) != 0u)
#define PIN_WATCH(port, bit) (PIN_CHANGE_MASK_##port |= PIN_MASK(bit))
#define PIN_IGNORE(port, bit) (PIN_CHANGE_MASK_##port &= PIN_NOT(bit))

#define PIN_PULL_UP(port, bit) PIN_RAISE(port, bit)
#define PIN_PULL_NONE(port, bit) PIN_LOWER(port, bit)

static inline void pins_init(void)
{
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, cnf1, cnf2, cnf3)                    \
    PIN_RAISE(cs_port, cs_bit);                                                                    \
    PIN_DRIVE(cs_port, cs_bit);                                                                    \
    PIN_RAISE(int_port, int_bit);
#define INPUT(index, port, bit, pull)                                                              \
    PIN_PULL_##pull(port, bit);                                                                    \
    PIN_WATCH(port, bit);
#if LOCUM_OUTPUTS
#define OUTPUT(index, port, bit, off)                                                              \
    PIN_##off(port, bit);                                                                          \
    PIN_DRIVE(port, bit);
    BOARD_OUTPUTS(OUTPUT)
#undef OUTPUT
#endif
    BOARD_CONTROLLERS(CONTROLLER)
    BOARD_INPUTS(INPUT)
#undef CONTROLLER
#undef INPUT
    BOARD_LED(PIN_DRIVE);
    PCICR = _BV(PCIE0) | _BV(PCIE1) | _BV(PCIE2);
}

ALWAYS_INLINE void pins_select(uint8_t controller)
{
    switch (controller) {
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, cnf1, cnf2, cnf3)                    \
    case index:                                                                                    \
        PIN_LOWER(cs_port, cs_bit);                                                                \
        break;
        BOARD_CONTROLLERS(CONTROLLER)
#undef CONTROLLER
    default:
        break;
    }
}

/* All of them: quicker than finding out which one it was. */
ALWAYS_INLINE void pins_deselect(void)
{
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, cnf1, cnf2, cnf3)                    \
    PIN_RAISE(cs_port, cs_bit);
    BOARD_CONTROLLERS(CONTROLLER)
#undef CONTROLLER
}

/* The controller holds its interrupt line low: something finished. */
ALWAYS_INLINE bool pins_int_low(uint8_t controller)
{
    switch (controller) {
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, cnf1, cnf2, cnf3)                    \
    case index:                                                                                    \
        return !PIN_IS_HIGH(int_port, int_bit);
        BOARD_CONTROLLERS(CONTROLLER)
#undef CONTROLLER
    default:
        return false;
    }
}

static inline void pins_watch_controllers(bool watch)
{
    if (watch) {
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, cnf1, cnf2, cnf3)                    \
    PIN_WATCH(int_port, int_bit);
        BOARD_CONTROLLERS(CONTROLLER)
#undef CONTROLLER
    } else {
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, cnf1, cnf2, cnf3)                    \
    PIN_IGNORE(int_port, int_bit);
        BOARD_CONTROLLERS(CONTROLLER)
#undef CONTROLLER
    }
}

static inline locum_input_set pins_inputs(void)
{
    locum_input_set levels = 0;

#define INPUT(index, port, bit, pull)                                                              \
    if (PIN_IS_HIGH(port, bit)) {                                                                  \
        levels |= (locum_input_set)(1u << (index));                                                \
    }
    BOARD_INPUTS(INPUT)
#undef INPUT
    return levels;
}

#if LOCUM_OUTPUTS
static inline void pins_outputs(locum_output_set levels)
{
#define OUTPUT(index, port, bit, off)                                                              \
    if ((levels & (1u << (index))) != 0u) {                                                        \
        PIN_RAISE(port, bit);                                                                      \
    } else {                                                                                       \
        PIN_LOWER(port, bit);                                                                      \
    }
    BOARD_OUTPUTS(OUTPUT)
#undef OUTPUT
}
#endif

static inline void pins_led(bool on)
{
    if (on) {
        BOARD_LED(PIN_RAISE);
    } else {
        BOARD_LED(PIN_LOWER);
    }
}

#endif
