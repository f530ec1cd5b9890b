#include "board_parts.h"

typedef struct {
    uint32_t port;
    uint8_t bit;
    uint8_t pull;
} input_pin;

#define PIN_ROW(port, bit, pull) {GPIO_##port, (bit), GPIO_##pull},

/* The last row keeps the table from being empty. */
static const input_pin pins[] = {LOCUM_INPUTS(PIN_ROW){GPIO_A, 0, GPIO_PULL_NONE}};

#define PIN_LINE_SUM(port, bit, pull) +(1ul << (bit))
#define PIN_LINE_SET(port, bit, pull) | (1ul << (bit))
#define PIN_LINES (0ul LOCUM_INPUTS(PIN_LINE_SET))
#if (0ul LOCUM_INPUTS(PIN_LINE_SUM)) != PIN_LINES
#error "Two inputs have the same pin number: the chip has one interrupt line per number."
#endif

/* Those of the interrupt controller's first two words. */
#define IRQS_0_31 CHIP_LINE_IRQS_0_31((uint32_t)PIN_LINES)
#define IRQS_32_63 CHIP_LINE_IRQS_32_63((uint32_t)PIN_LINES)

static void change(volatile uint32_t *place, uint32_t shift, uint32_t mask, uint32_t value)
{
    *place = (*place & ~(mask << shift)) | (value << shift);
}

void pin_configure(uint32_t port, uint32_t bit, uint32_t mode, uint32_t pull)
{
    change(&GPIO_PUPDR(port), 2u * bit, 3u, pull);
    change(&GPIO_MODER(port), 2u * bit, 3u, mode);
}

static void connect(const can_pin *pin, uint32_t pull)
{
    change(&GPIO_AFR(pin->port, pin->bit), 4u * (pin->bit % 8u), 0xFu, pin->function);
    change(&GPIO_OSPEEDR(pin->port), 2u * pin->bit, 3u, GPIO_SPEED_FAST);
    pin_configure(pin->port, pin->bit, GPIO_ALTERNATE, pull);
}

void pins_connect(const can_pin *receive, const can_pin *transmit)
{
    connect(receive, GPIO_PULL_UP);
    connect(transmit, GPIO_PULL_NONE);
}

void inputs_start(void)
{
    for (uint32_t i = 0; i != LOCUM_INPUT_COUNT; i++) {
        const input_pin *const pin = &pins[i];
        const uint32_t port_number = (pin->port - GPIO_A) / (GPIO_B - GPIO_A);

        pin_configure(pin->port, pin->bit, GPIO_INPUT, pin->pull);
        change(&EXTI_SOURCE(pin->bit), EXTI_SOURCE_BITS * (pin->bit % 4u), 0xFu, port_number);
    }
    EXTI_RTSR = PIN_LINES;
    EXTI_FTSR = PIN_LINES;
    EXTI_IMR = PIN_LINES;
    NVIC_ISER(0) = IRQS_0_31;
    if (IRQS_32_63 != 0u) {
        NVIC_ISER(32) = IRQS_32_63;
    }
}

locum_input_set inputs_read(void)
{
    locum_input_set levels = 0;

    /* Cleared before the look: an edge after the look ends the next wait. */
    EXTI_CLEAR(PIN_LINES);
    NVIC_ICPR(0) = IRQS_0_31;
    if (IRQS_32_63 != 0u) {
        NVIC_ICPR(32) = IRQS_32_63;
    }
    for (uint32_t i = 0; i != LOCUM_INPUT_COUNT; i++) {
        if ((GPIO_IDR(pins[i].port) & (1u << pins[i].bit)) != 0u) {
            levels |= (locum_input_set)(1u << i);
        }
    }
    return levels;
}
