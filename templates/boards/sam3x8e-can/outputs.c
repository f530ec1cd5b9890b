/* Outputs. */
#include "board_parts.h"

#if LOCUM_OUTPUTS

typedef struct {
    uint32_t port;
    uint8_t bit;
    uint8_t off; /* level */
} output_pin;

#define PIN_ROW(port, bit, off) {PIO_##port, (bit), (off)},

static const output_pin pins[LOCUM_OUTPUTS] = {BOARD_OUTPUT_PINS(PIN_ROW)};

static void put(const output_pin *pin, bool high)
{
    if (high) {
        PIO_SODR(pin->port) = 1u << pin->bit;
    } else {
        PIO_CODR(pin->port) = 1u << pin->bit;
    }
}

void outputs_start(void)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        put(&pins[i], pins[i].off != 0u);
        PIO_OER(pins[i].port) = 1u << pins[i].bit;
        PIO_PER(pins[i].port) = 1u << pins[i].bit;
    }
}

void outputs_write(locum_output_set levels)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        put(&pins[i], ((levels >> i) & 1u) != 0u);
    }
}

#endif
