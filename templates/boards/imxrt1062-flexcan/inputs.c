#include "board_parts.h"

typedef struct {
    uint8_t port;
    uint8_t bit;
    uint32_t pad;
} input_pin;

#define PULL_NONE 0u
#define PULL_UP (PAD_KEEPER_OR_PULL | PAD_PULL | PAD_UP_47K)
#define PULL_DOWN (PAD_KEEPER_OR_PULL | PAD_PULL | PAD_DOWN_100K)
#define PIN_ROW(port, bit, pull) {PORT_##port, (bit), PULL_##pull},

/* The last row keeps the table from being empty. */
static const input_pin pins[] = {BOARD_INPUTS(PIN_ROW){0, 0, 0}};

#define PORTS 2u
#define PASTE(a, b) a##b
#define PORT_OF(letter) PASTE(PORT_, letter)
#define LED_PORT PORT_OF(BOARD_LED_PORT)

void pin_connect(uint32_t port, uint32_t bit, uint32_t function, uint32_t pad)
{
    IOMUX_PAD(port, bit) = pad;
    IOMUX_FUNCTION(port, bit) = function;
}

void pin_put(uint32_t port, uint32_t bit, bool high)
{
    if (high) {
        GPIO_SET(port) = 1u << bit;
    } else {
        GPIO_CLEAR(port) = 1u << bit;
    }
}

void pins_start(void)
{
#if LOCUM_OUTPUTS
    outputs_start();
#endif
    led_light(true);
    GPIO_GDIR(LED_PORT) |= 1u << BOARD_LED_BIT;
    pin_connect(LED_PORT, BOARD_LED_BIT, FUNCTION_GPIO, PAD_DRIVE);
    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        const input_pin *const pin = &pins[i];

        pin_connect(pin->port, pin->bit, FUNCTION_GPIO, PAD_HYSTERESIS | pin->pad);
        GPIO_EDGE_SEL(pin->port) |= 1u << pin->bit; /* either edge */
        GPIO_IMR(pin->port) |= 1u << pin->bit;
    }
    for (uint32_t irq = IRQ_GPIO1_LOW; irq < IRQ_GPIO1_LOW + 2u * PORTS; irq++) {
        NVIC_ISER(irq) = NVIC_BIT(irq);
    }
}

void led_light(bool lit)
{
    pin_put(LED_PORT, BOARD_LED_BIT, lit);
}

locum_input_set inputs_read(void)
{
    locum_input_set levels = 0;

    /* Cleared before the look: an edge after the look ends the next wait. */
    for (uint32_t port = 0; port < PORTS; port++) {
        GPIO_ISR(port) = UINT32_MAX;
    }
    for (uint32_t irq = IRQ_GPIO1_LOW; irq < IRQ_GPIO1_LOW + 2u * PORTS; irq++) {
        NVIC_ICPR(irq) = NVIC_BIT(irq);
    }
    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        if ((GPIO_PSR(pins[i].port) & (1u << pins[i].bit)) != 0u) {
            levels |= (locum_input_set)(1u << i);
        }
    }
    return levels;
}
