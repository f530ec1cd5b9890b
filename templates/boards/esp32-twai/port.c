#include "board_parts.h"

#include "esp_system.h"
#include "esp_task_wdt.h"
#include "esp_timer.h"

/* Bounds the time between two feeds of the watchdog. */
#define SLICE_US 50000u
#define WATCHDOG_MS 1000u
#define PROGRAM_PRIORITY 19u
/* Bit of the clock that the LED shows while a bus is in trouble: about 4 Hz. */
#define TROUBLE_BLINK_US 131072u
/* A reason for silence: in 16 parts of a quarter of a second each, so many flashes, then dark. */
#define CODE_PART(now_us) (((now_us) >> 18) & 15u)

TaskHandle_t board_task;

static esp_timer_handle_t alarm_clock;
static int64_t started_us;
#if LOCUM_GUARDS
static uint8_t silence;
#endif

int main(void);

void board_must(esp_err_t result)
{
    if (result != ESP_OK) {
        esp_restart();
    }
}

static void wake(void *owner)
{
    (void)owner;
    (void)xTaskNotifyGive(board_task);
}

/* The system may have begun to watch already; what it was set to does not matter. */
static void watchdog_start(void)
{
    const esp_task_wdt_config_t config = {.timeout_ms = WATCHDOG_MS, .trigger_panic = true};

    if (esp_task_wdt_init(&config) != ESP_OK) {
        board_must(esp_task_wdt_reconfigure(&config));
    }
    board_must(esp_task_wdt_add(NULL));
}

void locum_port_init(void)
{
    const esp_timer_create_args_t alarm = {.callback = wake, .name = "locum"};

    board_task = xTaskGetCurrentTaskHandle();
    vTaskPrioritySet(NULL, PROGRAM_PRIORITY);
    watchdog_start();
    lines_start();
    lines_light(true);
    board_must(esp_timer_create(&alarm, &alarm_clock));
    can_start();
    started_us = esp_timer_get_time();
}

uint32_t locum_port_now_us(void)
{
    return (uint32_t)(esp_timer_get_time() - started_us);
}

locum_input_set locum_port_inputs(void)
{
    return lines_read();
}

#if LOCUM_OUTPUTS
void locum_port_outputs(locum_output_set levels)
{
    lines_put(levels);
}
#endif

bool locum_port_send(const locum_frame *frame)
{
    return can_send(frame);
}

#if LOCUM_LISTENS
bool locum_port_receive(locum_frame *frame)
{
    return can_receive(frame);
}
#endif

#if LOCUM_WATCHES_LEAVING
bool locum_port_waits(uint8_t bus, uint32_t id)
{
    return can_waits(bus, id);
}
#endif

#if LOCUM_GUARDS
void locum_port_withdraw(uint8_t bus)
{
    can_withdraw(bus);
}

void locum_port_led(uint8_t code)
{
    silence = code;
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool locum_port_bus_off(uint8_t bus)
{
    return can_is_off(bus);
}

void locum_port_restart(uint8_t bus)
{
    can_restart(bus);
}
#endif

#if LOCUM_GUARD_KEEP
locum_reset_cause locum_port_reset_cause(void)
{
    switch (esp_reset_reason()) {
    case ESP_RST_POWERON:
        return LOCUM_RESET_POWER;
    case ESP_RST_TASK_WDT:
    case ESP_RST_INT_WDT:
    case ESP_RST_WDT:
    case ESP_RST_PANIC:
    case ESP_RST_SW:
        return LOCUM_RESET_WATCHDOG;
    default:
        return LOCUM_RESET_BROWNOUT;
    }
}
#endif

static void show(uint32_t now_us)
{
#if LOCUM_GUARDS
    if (silence != LOCUM_TALKS) {
        const uint32_t part = CODE_PART(now_us);

        lines_light((part & 1u) == 0u && part < 2u * silence);
        return;
    }
#endif
#ifdef BOARD_SPI_BUS
    if (spi_can_is_in_trouble(now_us)) {
        lines_light((now_us & TROUBLE_BLINK_US) == 0u);
        return;
    }
#endif
    lines_light(!can_is_in_trouble() || (now_us & TROUBLE_BLINK_US) == 0u);
}

void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room)
{
    const uint32_t now_us = locum_port_now_us();
    uint32_t wait_us = SLICE_US;

#if defined BOARD_SPI_BUS && LOCUM_GUARD_BUS_OFF
    has_due = spi_can_watch_due(has_due, &due_us);
#endif
#ifdef BOARD_SPI_BUS
    if (spi_can_has_news(wants_room, now_us)) {
        wait_us = 0;
    }
#else
    (void)wants_room; /* what leaves a bus always ends the wait */
#endif
    if (wait_us != 0u && has_due && (int32_t)(due_us - now_us) < (int32_t)SLICE_US) {
        wait_us = (int32_t)(due_us - now_us) > 0 ? due_us - now_us : 0u;
    }
    board_must(esp_task_wdt_reset());
    show(now_us);
    if (wait_us != 0u) {
        (void)esp_timer_stop(alarm_clock); /* may have rung already */
        board_must(esp_timer_start_once(alarm_clock, wait_us));
    }
    /* What woke the program before it began to wait ends the wait at once. */
    (void)ulTaskNotifyTake(pdTRUE, wait_us != 0u ? portMAX_DELAY : 0u);
    can_serve();
#if defined BOARD_SPI_BUS && LOCUM_GUARD_BUS_OFF
    spi_can_watch(locum_port_now_us());
#endif
}

void locum_board_run(void)
{
    (void)main();
}

#ifndef ARDUINO
void app_main(void);

void app_main(void)
{
    locum_board_run();
}
#endif
