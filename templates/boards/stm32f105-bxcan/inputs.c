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

#define IRQS_0_31                                                                                  \
    ((((uint32_t)PIN_LINES & 0x1Fu) << IRQ_EXTI0) |                                                \
     (((uint32_t)PIN_LINES & 0x3E0u) != 0u ? NVIC_BIT(IRQ_EXTI9_5) : 0u))
#define IRQS_32_63 (((uint32_t)PIN_LINES & 0xFC00u) != 0u ? NVIC_BIT(IRQ_EXTI15_10) : 0u)

static void set_field(uint32_t port, uint32_t bit, uint32_t configuration)
{
    const uint32_t shift = 4u * (bit % 8u);
    volatile uint32_t *const place = &GPIO_CRL(port + 4u * (bit / 8u));

    *place = (*place & ~(0xFu << shift)) | (configuration << shift);
}

void pin_configure(uint32_t port, uint32_t bit, uint32_t mode, uint32_t pull)
{
    if (mode == GPIO_OUTPUT) {
        set_field(port, bit, GPIO_OUTPUT_SLOW);
    } else if (mode == GPIO_ALTERNATE) {
        set_field(port, bit, GPIO_ALTERNATE_OUTPUT);
    } else if (pull == GPIO_PULL_NONE) {
        set_field(port, bit, GPIO_INPUT_FLOATING);
    } else {
        GPIO_BSRR(port) = 1u << (pull == GPIO_PULL_UP ? bit : bit + 16u);
        set_field(port, bit, GPIO_INPUT_PULLED);
    }
}

void pins_connect(const can_pin *receive, const can_pin *transmit)
{
    static uint32_t remapped; /* the register's field for the debug port cannot be read back */

    if (receive->function == 1u) {
        remapped |= AFIO_MAPR_CAN_PB8_PB9;
    } else if (receive->function == 2u) {
        remapped |= AFIO_MAPR_CAN2_PB5_PB6;
    }
    AFIO_MAPR = AFIO_MAPR_SWD_ONLY | remapped;
    pin_configure(receive->port, receive->bit, GPIO_INPUT, GPIO_PULL_UP);
    pin_configure(transmit->port, transmit->bit, GPIO_ALTERNATE, GPIO_PULL_NONE);
}

void inputs_start(void)
{
    for (uint32_t i = 0; i != LOCUM_INPUT_COUNT; i++) {
        const input_pin *const pin = &pins[i];
        const uint32_t shift = 4u * (pin->bit % 4u);
        const uint32_t port_number = (pin->port - GPIO_A) / (GPIO_B - GPIO_A);

        pin_configure(pin->port, pin->bit, GPIO_INPUT, pin->pull);
        AFIO_EXTICR(pin->bit) = (AFIO_EXTICR(pin->bit) & ~(0xFu << shift)) | (port_number << shift);
    }
    EXTI_RTSR = PIN_LINES;
    EXTI_FTSR = PIN_LINES;
    EXTI_IMR = PIN_LINES;
    NVIC_ISER(IRQ_EXTI0) = IRQS_0_31;
    if (IRQS_32_63 != 0u) {
        NVIC_ISER(IRQ_EXTI15_10) = IRQS_32_63;
    }
}

locum_input_set inputs_read(void)
{
    locum_input_set levels = 0;

    /* Cleared before the look: an edge after the look ends the next wait. */
    EXTI_PR = PIN_LINES;
    NVIC_ICPR(IRQ_EXTI0) = IRQS_0_31;
    if (IRQS_32_63 != 0u) {
        NVIC_ICPR(IRQ_EXTI15_10) = IRQS_32_63;
    }
    for (uint32_t i = 0; i != LOCUM_INPUT_COUNT; i++) {
        if ((GPIO_IDR(pins[i].port) & (1u << pins[i].bit)) != 0u) {
            levels |= (locum_input_set)(1u << i);
        }
    }
    return levels;
}
