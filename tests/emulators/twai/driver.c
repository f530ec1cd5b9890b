/*
 * The TWAI driver and its controllers (Programming Guide, "Two-Wire Automotive Interface"): states,
 * alerts, one frame on its way and a queue behind it, a queue of received frames, the single
 * acceptance filter, bus-off and recovery.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model.h"

#define CONTROLLERS 2u
#define INBOX 64u
#define OUTBOX 8u

struct twai_obj_t {
    unsigned bus;
    bool installed;
    twai_general_config_t general;
    twai_filter_config_t filter;
    twai_timing_config_t timing;
    twai_state_t state;
    uint32_t alerts;               /* raised, not read */
    twai_message_t outbox[OUTBOX]; /* the first is with the controller */
    uint64_t asked_at[OUTBOX];
    unsigned out_count;
    twai_message_t inbox[INBOX];
    unsigned in_first;
    unsigned in_count;
    bool joined;
    bool on_wire;
    bool recovered;           /* from bus-off */
    unsigned transmit_errors; /* 256: bus-off */
};

static struct twai_obj_t drivers[CONTROLLERS];

static void raise_alert(struct twai_obj_t *driver, uint32_t alert)
{
    driver->alerts |= alert & driver->general.alerts_enabled;
}

static void to_frame(const twai_message_t *message, locum_frame *frame)
{
    memset(frame, 0, sizeof *frame);
    frame->id = message->identifier | (message->extd != 0u ? LOCUM_ID_EXTENDED : 0u);
    frame->length = message->data_length_code;
    memcpy(frame->data, message->data, frame->length);
}

/* ---- as the bus sees it ---- */

static int candidate(void *controller, locum_frame *frame, uint64_t *asked_at)
{
    const struct twai_obj_t *driver = controller;

    if (driver->out_count == 0u) {
        return -1;
    }
    to_frame(&driver->outbox[0], frame);
    *asked_at = driver->asked_at[0];
    return 0;
}

static void started(void *controller, int place)
{
    (void)place;
    ((struct twai_obj_t *)controller)->on_wire = true;
}

static void sent(void *controller, int place)
{
    struct twai_obj_t *driver = controller;

    (void)place;
    driver->on_wire = false;
    if (driver->out_count == 0u) {
        return; /* forgotten meanwhile */
    }
    driver->out_count--;
    memmove(driver->outbox, driver->outbox + 1, driver->out_count * sizeof driver->outbox[0]);
    memmove(driver->asked_at, driver->asked_at + 1, driver->out_count * sizeof driver->asked_at[0]);
    raise_alert(driver, TWAI_ALERT_TX_SUCCESS);
}

/* "Single Filter Mode": an 11-bit identifier, RTR and two bytes, or a 29-bit identifier and RTR. */
static bool passes(const twai_filter_config_t *filter, const locum_frame *frame)
{
    uint32_t seen;
    uint32_t unused = 0;

    if ((frame->id & LOCUM_ID_EXTENDED) != 0u) {
        seen = (frame->id & ~LOCUM_ID_EXTENDED) << 3;
        unused = 0x3u;
    } else {
        seen = frame->id << 21;
        seen |= frame->length > 0u ? (uint32_t)frame->data[0] << 8 : 0u;
        seen |= frame->length > 1u ? frame->data[1] : 0u;
        unused =
            0xFu << 16 | (frame->length > 0u ? 0u : 0xFF00u) | (frame->length > 1u ? 0u : 0xFFu);
    }
    return ((seen ^ filter->acceptance_code) & ~filter->acceptance_mask & ~unused) == 0u;
}

static void heard(void *controller, const locum_frame *frame)
{
    struct twai_obj_t *driver = controller;
    twai_message_t *message;

    if (!passes(&driver->filter, frame)) {
        return;
    }
    if (driver->in_count == driver->general.rx_queue_len || driver->in_count == INBOX) {
        printf("fault %u received frames are not read\n", driver->bus);
        return;
    }
    message = &driver->inbox[(driver->in_first + driver->in_count++) % INBOX];
    memset(message, 0, sizeof *message);
    message->extd = (frame->id & LOCUM_ID_EXTENDED) != 0u;
    message->identifier = frame->id & ~LOCUM_ID_EXTENDED;
    message->data_length_code = frame->length;
    memcpy(message->data, frame->data, frame->length);
    raise_alert(driver, TWAI_ALERT_RX_DATA);
}

static bool on_bus(const void *controller)
{
    const struct twai_obj_t *driver = controller;

    return driver->state == TWAI_STATE_RUNNING && driver->joined;
}

static unsigned awaits(const void *controller)
{
    const struct twai_obj_t *driver = controller;

    if (driver->state == TWAI_STATE_RECOVERING) {
        return RECESSIVE_TO_RECOVER;
    }
    return driver->state == TWAI_STATE_RUNNING && !driver->joined ? RECESSIVE_TO_JOIN : 0u;
}

static bool fits(const struct twai_obj_t *driver)
{
    const twai_timing_config_t *timing = &driver->timing;
    const double rate =
        (double)the_world.clock_hz / timing->brp / (1.0 + timing->tseg_1 + timing->tseg_2);
    const double wanted = the_world.around.buses[driver->bus].wire.rate;

    if (rate > wanted * 0.995 && rate < wanted * 1.005) {
        return true;
    }
    printf("fault %u the controller's bit rate is %.0f, the bus has %.0f\n", driver->bus, rate,
           wanted);
    return false;
}

static void has_seen(void *controller, unsigned runs)
{
    struct twai_obj_t *driver = controller;

    if (runs == RECESSIVE_TO_RECOVER) {
        driver->transmit_errors = 0;
        driver->state = TWAI_STATE_STOPPED;
        driver->recovered = true;
        raise_alert(driver, TWAI_ALERT_BUS_RECOVERED | TWAI_ALERT_ERR_ACTIVE);
    } else {
        driver->joined = fits(driver);
    }
}

static void counts_errors(void *controller, unsigned transmit_errors)
{
    struct twai_obj_t *driver = controller;

    driver->transmit_errors = transmit_errors;
    if (transmit_errors >= 256u) {
        driver->state = TWAI_STATE_BUS_OFF;
        driver->joined = false;
        raise_alert(driver, TWAI_ALERT_BUS_OFF);
    } else if (transmit_errors >= 128u) {
        raise_alert(driver, TWAI_ALERT_ERR_PASS);
    }
}

static const station driver_station = {candidate, started, sent,     heard,
                                       on_bus,    awaits,  has_seen, counts_errors};

void driver_begin(void)
{
    unsigned made = 0;

    for (unsigned i = 0; i < the_world.around.count; i++) {
        if (the_world.spi.wired && the_world.spi.bus == i) {
            continue;
        }
        drivers[made].bus = i;
        surroundings_attach(&the_world.around, i, &driver_station, &drivers[made++]);
    }
}

static void print_waiting(struct twai_obj_t *driver)
{
    for (unsigned i = driver->on_wire ? 1u : 0u; i < driver->out_count; i++) {
        locum_frame frame;

        to_frame(&driver->outbox[i], &frame);
        surroundings_print(driver->bus, &frame, driver->asked_at[i], NULL);
    }
    driver->out_count = 0;
}

void driver_end(void)
{
    for (unsigned i = 0; i < CONTROLLERS; i++) {
        print_waiting(&drivers[i]);
    }
}

/* ---- as the program sees it ---- */

esp_err_t twai_driver_install_v2(const twai_general_config_t *general,
                                 const twai_timing_config_t *timing,
                                 const twai_filter_config_t *filter, twai_handle_t *made)
{
    struct twai_obj_t *driver;

    model_call();
    if (general->controller_id < 0 || (unsigned)general->controller_id >= the_world.around.count ||
        general->mode != TWAI_MODE_NORMAL || general->rx_queue_len == 0u ||
        !filter->single_filter || timing->quanta_resolution_hz != 0u || timing->brp < 2u ||
        timing->brp > 128u || timing->brp % 2u != 0u || timing->tseg_1 < 1u ||
        timing->tseg_1 > 16u || timing->tseg_2 < 1u || timing->tseg_2 > 8u || timing->sjw < 1u ||
        timing->sjw > 4u || general->tx_io == general->rx_io) {
        return ESP_ERR_INVALID_ARG;
    }
    driver = &drivers[general->controller_id];
    if (driver->installed) {
        return ESP_ERR_INVALID_STATE;
    }
    driver->installed = true;
    driver->general = *general;
    driver->timing = *timing;
    driver->filter = *filter;
    *made = driver;
    return ESP_OK;
}

esp_err_t twai_start_v2(twai_handle_t driver)
{
    model_call();
    if (!driver->installed || driver->state != TWAI_STATE_STOPPED) {
        return ESP_ERR_INVALID_STATE;
    }
    driver->state = TWAI_STATE_RUNNING;
    driver->in_count = 0;
    /* Behind a recovery the 11 recessive bits have been seen. */
    driver->joined = driver->recovered && fits(driver);
    surroundings_advance(&the_world.around, the_world.around.now);
    return ESP_OK;
}

esp_err_t twai_transmit_v2(twai_handle_t driver, const twai_message_t *message, TickType_t ticks)
{
    model_call();
    if (message->data_length_code > 8u ||
        message->identifier > (message->extd ? 0x1FFFFFFFu : 0x7FFu)) {
        return ESP_ERR_INVALID_ARG;
    }
    if (driver->state != TWAI_STATE_RUNNING) {
        return ESP_ERR_INVALID_STATE;
    }
    if (driver->out_count > driver->general.tx_queue_len || driver->out_count == OUTBOX) {
        if (ticks != 0u) {
            printf("fault %u the program waits for room\n", driver->bus);
        }
        return driver->general.tx_queue_len == 0u ? ESP_FAIL : ESP_ERR_TIMEOUT;
    }
    driver->outbox[driver->out_count] = *message;
    driver->asked_at[driver->out_count++] = the_world.around.now;
    surroundings_advance(&the_world.around, the_world.around.now);
    return ESP_OK;
}

esp_err_t twai_receive_v2(twai_handle_t driver, twai_message_t *message, TickType_t ticks)
{
    (void)ticks;
    model_call();
    if (driver->in_count == 0u) {
        return ESP_ERR_TIMEOUT;
    }
    *message = driver->inbox[driver->in_first];
    driver->in_first = (driver->in_first + 1u) % INBOX;
    driver->in_count--;
    return ESP_OK;
}

static bool has_alerts(void *owner)
{
    return ((struct twai_obj_t *)owner)->alerts != 0u;
}

esp_err_t twai_read_alerts_v2(twai_handle_t driver, uint32_t *alerts, TickType_t ticks)
{
    (void)ticks;
    if (driver->alerts == 0u) {
        model_wait(has_alerts, driver);
    }
    *alerts = driver->alerts;
    driver->alerts = 0;
    return ESP_OK;
}

esp_err_t twai_initiate_recovery_v2(twai_handle_t driver)
{
    model_call();
    if (driver->state != TWAI_STATE_BUS_OFF) {
        return ESP_ERR_INVALID_STATE;
    }
    driver->state = TWAI_STATE_RECOVERING;
    print_waiting(driver); /* "This function will reset the TX queue" */
    surroundings_advance(&the_world.around, the_world.around.now);
    return ESP_OK;
}

esp_err_t twai_get_status_info_v2(twai_handle_t driver, twai_status_info_t *status)
{
    memset(status, 0, sizeof *status);
    status->state = driver->state;
    status->msgs_to_tx = driver->out_count;
    status->msgs_to_rx = driver->in_count;
    status->tx_error_counter = driver->transmit_errors;
    return ESP_OK;
}
