/*
 * The buses: TWAI controllers, and where the board has one a controller on SPI (spi_can.c).
 *
 * The TWAI driver with handles (ESP-IDF Programming Guide, "Two-Wire Automotive Interface"). The
 * driver sends in order of arrival and gives nothing back. So it has no queue and gets one frame of
 * a bus at a time; an alert tells when that has left.
 */
#include "board_parts.h"

#include "driver/twai.h"
#include "mailboxes.h"

#include <string.h>

#define RECEIVE_QUEUE 32u
#define ALERT_TASK_STACK 3072u
#define ALERT_TASK_PRIORITY 20u
#define MAX_LENGTH 8u

#define ALERTS                                                                                     \
    (TWAI_ALERT_TX_SUCCESS | TWAI_ALERT_BUS_OFF | TWAI_ALERT_BUS_RECOVERED | TWAI_ALERT_ERR_PASS | \
     TWAI_ALERT_ERR_ACTIVE | (LOCUM_LISTENS ? TWAI_ALERT_RX_DATA : TWAI_ALERT_NONE))

typedef struct {
    twai_handle_t driver;
    uint32_t alerts; /* raised and not served; two tasks change it */
    mailboxes boxes;
    bool off;
    bool passive;
} can_state;

typedef struct {
    uint8_t bus;
    twai_timing_config_t timing;
    twai_filter_config_t filter;
    gpio_num_t tx;
    gpio_num_t rx;
} can_settings;

#define SETTINGS(number, tx_pin, rx_pin, prescaler, segment1, segment2, jump, code, mask)          \
    {                                                                                              \
        .bus = (number),                                                                           \
        .timing = {.brp = (prescaler), .tseg_1 = (segment1), .tseg_2 = (segment2), .sjw = (jump)}, \
        .filter = {.acceptance_code = (code), .acceptance_mask = (mask), .single_filter = true},   \
        .tx = (gpio_num_t)(tx_pin),                                                                \
        .rx = (gpio_num_t)(rx_pin),                                                                \
    },

static const can_settings settings[] = {BOARD_BUSES(SETTINGS)};
static can_state states[BOARD_TWAI_COUNT];

#ifdef BOARD_SPI_BUS
#define IS_ON_SPI(number) ((number) == BOARD_SPI_BUS)
/* There is one beside it. */
#define STATE_OF(number) (&states[0])
#else
#define STATE_OF(number) (&states[number])
#endif

/* Waits for alerts and wakes the program. */
static void watch_alerts(void *owner)
{
    can_state *const state = owner;

    for (;;) {
        uint32_t alerts = 0;

        if (twai_read_alerts_v2(state->driver, &alerts, portMAX_DELAY) == ESP_OK) {
            (void)__atomic_fetch_or(&state->alerts, alerts, __ATOMIC_RELAXED);
            (void)xTaskNotifyGive(board_task);
        }
    }
}

void can_start(void)
{
    for (uint8_t i = 0; i < BOARD_TWAI_COUNT; i++) {
        const can_settings *const wanted = &settings[i];
        can_state *const state = &states[i];
        twai_general_config_t general =
            TWAI_GENERAL_CONFIG_DEFAULT_V2(i, wanted->tx, wanted->rx, TWAI_MODE_NORMAL);

        general.tx_queue_len = 0;
        general.rx_queue_len = RECEIVE_QUEUE;
        general.alerts_enabled = ALERTS;
        board_must(
            twai_driver_install_v2(&general, &wanted->timing, &wanted->filter, &state->driver));
        board_must(twai_start_v2(state->driver));
        board_must(xTaskCreate(watch_alerts, "alerts", ALERT_TASK_STACK, state, ALERT_TASK_PRIORITY,
                               NULL) == pdPASS
                       ? ESP_OK
                       : ESP_FAIL);
    }
#ifdef BOARD_SPI_BUS
    spi_can_start();
#endif
}

static bool give(const can_state *state, const locum_frame *frame)
{
    twai_message_t message = {.identifier = frame->id & ~LOCUM_ID_EXTENDED,
                              .data_length_code = frame->length};

    if ((frame->id & LOCUM_ID_EXTENDED) != 0u) {
        message.extd = 1;
    }
    memcpy(message.data, frame->data, frame->length);
    return twai_transmit_v2(state->driver, &message, 0) == ESP_OK;
}

static void hand_over(can_state *state)
{
    const locum_frame *const frame = mailboxes_next(&state->boxes);

    if (frame != NULL && !state->off && give(state, frame)) {
        mailboxes_hand_over(&state->boxes, frame);
    }
}

bool can_send(const locum_frame *frame)
{
    can_state *const state = STATE_OF(frame->bus);

#ifdef BOARD_SPI_BUS
    if (IS_ON_SPI(frame->bus)) {
        return spi_can_send(frame);
    }
#endif
    if (!mailboxes_put(&state->boxes, frame)) {
        return false;
    }
    hand_over(state);
    return true;
}

/* The driver forgets the frame that it has (Programming Guide, "Bus-Off Recovery"). */
static void recover(can_state *state)
{
    if (twai_initiate_recovery_v2(state->driver) == ESP_OK) {
        mailboxes_lost(&state->boxes);
    }
}

static void serve(can_state *state)
{
    const uint32_t alerts = __atomic_exchange_n(&state->alerts, 0u, __ATOMIC_RELAXED);

    if ((alerts & TWAI_ALERT_TX_SUCCESS) != 0u) {
        mailboxes_sent(&state->boxes);
    }
    if ((alerts & (TWAI_ALERT_ERR_PASS | TWAI_ALERT_ERR_ACTIVE)) != 0u) {
        twai_status_info_t status;

        board_must(twai_get_status_info_v2(state->driver, &status));
        state->passive = status.tx_error_counter >= 128u || status.rx_error_counter >= 128u;
    }
    if ((alerts & TWAI_ALERT_BUS_RECOVERED) != 0u) {
        board_must(twai_start_v2(state->driver));
        state->off = false;
    }
    if ((alerts & TWAI_ALERT_BUS_OFF) != 0u) {
        state->off = true;
#if !LOCUM_GUARD_BUS_OFF
        recover(state);
#endif
    }
    hand_over(state);
}

void can_serve(void)
{
    for (uint8_t i = 0; i < BOARD_TWAI_COUNT; i++) {
        serve(&states[i]);
    }
}

bool can_is_in_trouble(void)
{
    for (uint8_t i = 0; i < BOARD_TWAI_COUNT; i++) {
        if (states[i].off || states[i].passive) {
            return true;
        }
    }
    return false;
}

#if LOCUM_LISTENS
bool can_receive(locum_frame *frame)
{
#ifdef BOARD_SPI_BUS
    if (spi_can_receive(frame)) {
        return true;
    }
#endif
    for (uint8_t i = 0; i < BOARD_TWAI_COUNT; i++) {
        twai_message_t message;

        while (twai_receive_v2(states[i].driver, &message, 0) == ESP_OK) {
            const uint8_t length = message.data_length_code;

            if (message.rtr != 0u) {
                continue; /* tells nothing */
            }
            *frame = (locum_frame){
                .id = message.identifier | (message.extd != 0u ? LOCUM_ID_EXTENDED : 0u),
                .bus = settings[i].bus,
                .length = length < MAX_LENGTH ? length : MAX_LENGTH,
            };
            memcpy(frame->data, message.data, frame->length);
            return true;
        }
    }
    return false;
}
#endif

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
#ifdef BOARD_SPI_BUS
    if (IS_ON_SPI(bus)) {
        return spi_can_waits(id);
    }
#endif
    return mailboxes_hold(&STATE_OF(bus)->boxes, id);
}
#endif

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
#ifdef BOARD_SPI_BUS
    if (IS_ON_SPI(bus)) {
        spi_can_withdraw();
        return;
    }
#endif
    mailboxes_withdraw(&STATE_OF(bus)->boxes);
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool can_is_off(uint8_t bus)
{
#ifdef BOARD_SPI_BUS
    if (IS_ON_SPI(bus)) {
        return spi_can_is_off();
    }
#endif
    return STATE_OF(bus)->off;
}

void can_restart(uint8_t bus)
{
#ifdef BOARD_SPI_BUS
    if (IS_ON_SPI(bus)) {
        spi_can_restart(locum_port_now_us());
        return;
    }
#endif
    recover(STATE_OF(bus));
}
#endif
