/* Outputs. */
#include "board_parts.h"

#if LOCUM_OUTPUTS

typedef struct {
    uint8_t port;
    uint8_t bit;
    uint8_t off; /* level */
} output_pin;

#define PIN_ROW(port, bit, off) {PORT_##port, (bit), (off)},

static const output_pin pins[LOCUM_OUTPUTS] = {BOARD_OUTPUT_PINS(PIN_ROW)};

void outputs_start(void)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        const output_pin *const pin = &pins[i];

        pin_put(pin->port, pin->bit, pin->off != 0u);
        GPIO_GDIR(pin->port) |= 1u << pin->bit;
        pin_connect(pin->port, pin->bit, FUNCTION_GPIO, PAD_DRIVE);
    }
}

void outputs_write(locum_output_set levels)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        pin_put(pins[i].port, pins[i].bit, ((levels >> i) & 1u) != 0u);
    }
}

#endif
