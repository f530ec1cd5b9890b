/*
 * The skeleton's hardware, filled in for the model of the TWAI driver and its system: what a user
 * would write. Filters let everything in.
 */
#include "hardware.h"

#include <string.h>

#include "driver/gpio.h"
#include "driver/twai.h"
#include "esp_system.h"
#include "esp_task_wdt.h"
#include "esp_timer.h"
#include "freertos/task.h"

#define CLOCK_HZ 80000000u
#define QUANTA 20u
#define ALERTS                                                                                     \
    (TWAI_ALERT_TX_SUCCESS | TWAI_ALERT_RX_DATA | TWAI_ALERT_BUS_OFF | TWAI_ALERT_BUS_RECOVERED)
#define WATCHDOG_MS 1000u

typedef struct {
    twai_handle_t driver;
    uint32_t alerts;
    bool off;
} controller;

#define PULL_NONE GPIO_PULLUP_DISABLE
#define PULL_UP GPIO_PULLUP_ENABLE
#define PULL_DOWN GPIO_PULLUP_DISABLE
#define PIN(pin, pull) {(pin), PULL_##pull},

static const struct {
    gpio_num_t pin;
    gpio_pullup_t pull_up;
} inputs[] = {BOARD_INPUTS(PIN){GPIO_NUM_NC, PULL_NONE}};

static controller controllers[BOARD_BUS_COUNT];
static TaskHandle_t program;
static esp_timer_handle_t timer;
static int64_t started_us;

int main(void);
void app_main(void);

void app_main(void)
{
    (void)main();
}

static void wake(void *owner)
{
    (void)owner;
    (void)xTaskNotifyGive(program);
}

#if LOCUM_OUTPUTS
#define OUTPUT_PIN(pin, off) (gpio_num_t)(pin),
#define OUTPUT_OFF(pin, off) (off),

static const gpio_num_t output_pins[] = {BOARD_OUTPUT_PINS(OUTPUT_PIN)};
static const uint32_t output_levels[] = {BOARD_OUTPUT_PINS(OUTPUT_OFF)};

static void outputs_start(void)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        const gpio_config_t output = {.pin_bit_mask = 1ull << output_pins[i],
                                      .mode = GPIO_MODE_OUTPUT};

        (void)gpio_set_level(output_pins[i], output_levels[i]);
        (void)gpio_config(&output);
    }
}

void hardware_outputs(locum_output_set levels)
{
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        (void)gpio_set_level(output_pins[i], ((uint32_t)levels >> i) & 1u);
    }
}
#endif

void hardware_start(void)
{
    const esp_task_wdt_config_t watchdog = {.timeout_ms = WATCHDOG_MS, .trigger_panic = true};
    const esp_timer_create_args_t alarm = {.callback = wake};
    const gpio_config_t led = {.pin_bit_mask = 1ull << BOARD_LED, .mode = GPIO_MODE_OUTPUT};

    program = xTaskGetCurrentTaskHandle();
    (void)esp_task_wdt_reconfigure(&watchdog);
    (void)esp_task_wdt_add(NULL);
    (void)esp_timer_create(&alarm, &timer);
#if LOCUM_OUTPUTS
    outputs_start();
#endif
    (void)gpio_config(&led);
    (void)gpio_install_isr_service(0);
    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        const gpio_config_t input = {.pin_bit_mask = 1ull << inputs[i].pin,
                                     .mode = GPIO_MODE_INPUT,
                                     .pull_up_en = inputs[i].pull_up,
                                     .intr_type = GPIO_INTR_ANYEDGE};

        (void)gpio_config(&input);
        (void)gpio_isr_handler_add(inputs[i].pin, wake, NULL);
    }
    started_us = esp_timer_get_time();
}

uint32_t hardware_now_us(void)
{
    return (uint32_t)(esp_timer_get_time() - started_us);
}

void hardware_sleep(uint32_t us)
{
    (void)esp_timer_stop(timer);
    (void)esp_timer_start_once(timer, us);
    (void)ulTaskNotifyTake(pdTRUE, portMAX_DELAY);
}

void hardware_feed_watchdog(void)
{
    (void)esp_task_wdt_reset();
}

locum_input_set hardware_inputs(void)
{
    locum_input_set levels = 0;

    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        if (gpio_get_level(inputs[i].pin) != 0) {
            levels |= (locum_input_set)(1u << i);
        }
    }
    return levels;
}

void hardware_led(bool lit)
{
    (void)gpio_set_level(BOARD_LED, lit ? 1u : 0u);
}

static void watch_alerts(void *owner)
{
    controller *const state = owner;

    for (;;) {
        uint32_t alerts = 0;

        (void)twai_read_alerts_v2(state->driver, &alerts, portMAX_DELAY);
        state->alerts |= alerts;
        (void)xTaskNotifyGive(program);
    }
}

void hardware_can_start(uint8_t bus, const hardware_bus *settings)
{
    const uint8_t tseg_1 = (uint8_t)(QUANTA * settings->sample_point / 1000u - 1u);
    const twai_timing_config_t timing = {.brp = CLOCK_HZ / QUANTA / settings->rate,
                                         .tseg_1 = tseg_1 > 16u ? 16u : tseg_1,
                                         .tseg_2 =
                                             (uint8_t)(QUANTA - 1u - (tseg_1 > 16u ? 16u : tseg_1)),
                                         .sjw = 1};
    const twai_filter_config_t filter = {.acceptance_mask = 0xFFFFFFFFu, .single_filter = true};
    twai_general_config_t general =
        TWAI_GENERAL_CONFIG_DEFAULT_V2(bus, 40 + 2 * bus, 41 + 2 * bus, TWAI_MODE_NORMAL);

    general.tx_queue_len = 0;
    general.rx_queue_len = 32;
    general.alerts_enabled = ALERTS;
    (void)twai_driver_install_v2(&general, &timing, &filter, &controllers[bus].driver);
    (void)twai_start_v2(controllers[bus].driver);
    (void)xTaskCreate(watch_alerts, "alerts", 0, &controllers[bus], 20, NULL);
}

bool hardware_can_give(const locum_frame *frame)
{
    twai_message_t message = {.identifier = frame->id & ~LOCUM_ID_EXTENDED,
                              .data_length_code = frame->length};

    if ((frame->id & LOCUM_ID_EXTENDED) != 0u) {
        message.extd = 1;
    }
    memcpy(message.data, frame->data, frame->length);
    return twai_transmit_v2(controllers[frame->bus].driver, &message, 0) == ESP_OK;
}

static bool was_raised(controller *state, uint32_t alert)
{
    const bool raised = (state->alerts & alert) != 0u;

    state->alerts &= ~alert;
    return raised;
}

bool hardware_can_has_sent(uint8_t bus)
{
    return was_raised(&controllers[bus], TWAI_ALERT_TX_SUCCESS);
}

bool hardware_can_take(uint8_t bus, locum_frame *frame)
{
    twai_message_t message;

    if (twai_receive_v2(controllers[bus].driver, &message, 0) != ESP_OK) {
        return false;
    }
    *frame = (locum_frame){.id = message.identifier | (message.extd != 0u ? LOCUM_ID_EXTENDED : 0u),
                           .length = message.data_length_code};
    memcpy(frame->data, message.data, frame->length);
    return true;
}

bool hardware_can_abort(uint8_t bus)
{
    (void)bus;
    return false; /* the driver gives nothing back */
}

bool hardware_can_is_off(uint8_t bus)
{
    controller *const state = &controllers[bus];

    if (was_raised(state, TWAI_ALERT_BUS_RECOVERED)) {
        (void)twai_start_v2(state->driver);
        state->off = false;
    }
    if (was_raised(state, TWAI_ALERT_BUS_OFF)) {
        state->off = true;
    }
    return state->off;
}

void hardware_can_restart(uint8_t bus)
{
    (void)twai_initiate_recovery_v2(controllers[bus].driver);
}

#if LOCUM_GUARD_KEEP
locum_reset_cause hardware_reset_cause(void)
{
    const esp_reset_reason_t reason = esp_reset_reason();

    return reason == ESP_RST_POWERON    ? LOCUM_RESET_POWER
           : reason == ESP_RST_TASK_WDT ? LOCUM_RESET_WATCHDOG
                                        : LOCUM_RESET_BROWNOUT;
}
#endif
