#include "board_parts.h"

typedef struct {
    uint32_t port;
    uint8_t bit;
    bool pull_up;
} input_pin;

#define PULL_UP true
#define PULL_NONE false
#define PIN_ROW(port, bit, pull) {PIO_##port, (bit), PULL_##pull},

/* The last row keeps the table from being empty. */
static const input_pin pins[] = {BOARD_INPUTS(PIN_ROW){PIO_A, 0, false}};

#define PORTS 4u
#define PORT(number) (PIO_A + (PIO_B - PIO_A) * (number))
#define PORT_IRQS (0xFu << ID_PIO_A)

void inputs_start(void)
{
    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        const input_pin *const pin = &pins[i];
        const uint32_t mask = 1u << pin->bit;

        PIO_ODR(pin->port) = mask;
        if (pin->pull_up) {
            PIO_PUER(pin->port) = mask;
        } else {
            PIO_PUDR(pin->port) = mask;
        }
        PIO_PER(pin->port) = mask;
        PIO_IER(pin->port) = mask;
    }
    NVIC_ISER(ID_PIO_A) = PORT_IRQS;
}

locum_input_set inputs_read(void)
{
    locum_input_set levels = 0;

    /* Cleared before the look: an edge after the look ends the next wait. */
    for (uint32_t port = 0; port < PORTS; port++) {
        (void)PIO_ISR(PORT(port));
    }
    NVIC_ICPR(ID_PIO_A) = PORT_IRQS;
    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        if ((PIO_PDSR(pins[i].port) & (1u << pins[i].bit)) != 0u) {
            levels |= (locum_input_set)(1u << i);
        }
    }
    return levels;
}
