/* Inputs, whose edges wake the program, outputs, and the LED. */
#include "board_parts.h"

#include "driver/gpio.h"
#include "esp_attr.h"

typedef struct {
    gpio_num_t pin;
    bool pull_up;
    bool pull_down;
} input_pin;

#define PULL_NONE false, false
#define PULL_UP true, false
#define PULL_DOWN false, true
#define ROW(pin, pull) {(gpio_num_t)(pin), PULL_##pull},

/* The last row keeps the table from being empty. */
static const input_pin inputs[] = {BOARD_INPUTS(ROW){GPIO_NUM_NC, PULL_NONE}};

static void IRAM_ATTR on_edge(void *owner)
{
    BaseType_t woken = pdFALSE;

    (void)owner;
    vTaskNotifyGiveFromISR(board_task, &woken);
    portYIELD_FROM_ISR(woken);
}

#if LOCUM_OUTPUTS
typedef struct {
    gpio_num_t pin;
    uint8_t off; /* level */
} output_pin;

#define OUTPUT_ROW(pin, off) {(gpio_num_t)(pin), (off)},

static const output_pin outputs[LOCUM_OUTPUTS] = {BOARD_OUTPUT_PINS(OUTPUT_ROW)};

/* Pins get their level before they drive. */
static void outputs_start(void)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        const gpio_config_t output = {.pin_bit_mask = 1ull << outputs[i].pin,
                                      .mode = GPIO_MODE_OUTPUT};

        (void)gpio_set_level(outputs[i].pin, outputs[i].off);
        board_must(gpio_config(&output));
    }
}

void lines_put(locum_output_set levels)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        (void)gpio_set_level(outputs[i].pin, ((uint32_t)levels >> i) & 1u);
    }
}
#endif

void lines_start(void)
{
    const gpio_config_t led = {.pin_bit_mask = 1ull << BOARD_LED, .mode = GPIO_MODE_OUTPUT};

#if LOCUM_OUTPUTS
    outputs_start();
#endif
    board_must(gpio_config(&led));
    board_must(gpio_install_isr_service(0));
    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        const gpio_config_t input = {
            .pin_bit_mask = 1ull << inputs[i].pin,
            .mode = GPIO_MODE_INPUT,
            .pull_up_en = inputs[i].pull_up ? GPIO_PULLUP_ENABLE : GPIO_PULLUP_DISABLE,
            .pull_down_en = inputs[i].pull_down ? GPIO_PULLDOWN_ENABLE : GPIO_PULLDOWN_DISABLE,
            .intr_type = GPIO_INTR_ANYEDGE,
        };

        board_must(gpio_config(&input));
        board_must(gpio_isr_handler_add(inputs[i].pin, on_edge, NULL));
    }
}

#ifdef BOARD_SPI_BUS
void lines_wake_on_fall(int pin)
{
    const gpio_config_t line = {.pin_bit_mask = 1ull << pin,
                                .mode = GPIO_MODE_INPUT,
                                .pull_up_en = GPIO_PULLUP_ENABLE,
                                .intr_type = GPIO_INTR_NEGEDGE};

    board_must(gpio_config(&line));
    board_must(gpio_isr_handler_add((gpio_num_t)pin, on_edge, NULL));
}
#endif

locum_input_set lines_read(void)
{
    locum_input_set levels = 0;

    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        if (gpio_get_level(inputs[i].pin) != 0) {
            levels |= (locum_input_set)(1u << i);
        }
    }
    return levels;
}

void lines_light(bool lit)
{
    (void)gpio_set_level((gpio_num_t)BOARD_LED, lit ? 1u : 0u);
}
