/* Outputs. */
#include "board_parts.h"

#if LOCUM_OUTPUTS

typedef struct {
    uint32_t port;
    uint8_t bit;
    uint8_t off; /* level */
} output_pin;

#define PIN_ROW(port, bit, off) {GPIO_##port, (bit), (off)},

static const output_pin pins[LOCUM_OUTPUTS] = {LOCUM_OUTPUT_PINS(PIN_ROW)};

static void put(const output_pin *pin, bool high)
{
    GPIO_BSRR(pin->port) = 1u << (high ? pin->bit : pin->bit + 16u);
}

void outputs_start(void)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        put(&pins[i], pins[i].off != 0u);
        pin_configure(pins[i].port, pins[i].bit, GPIO_OUTPUT, GPIO_PULL_NONE);
    }
}

void outputs_write(locum_output_set levels)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        put(&pins[i], ((levels >> i) & 1u) != 0u);
    }
}

#endif
