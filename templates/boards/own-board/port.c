#include "hardware.h"
#include "mailboxes.h"

/* Bounds the time between two feeds of the watchdog. */
#define SLICE_US 50000u
/* How often a frame is offered again that a controller did not take. */
#define RETRY_US 1000u
/* A reason for silence: in 16 parts of a quarter of a second each, so many flashes, then dark. */
#define CODE_PART(now_us) (((now_us) >> 18) & 15u)

typedef struct {
    mailboxes boxes;
    bool stuck;
    bool off;
} bus_state;

#define FILTER(id, mask) {(id), (mask)},
#define FILTERS(bus, rate, sample_point)                                                           \
    static const hardware_filter filters_##bus[] = {BOARD_FILTERS_##bus(FILTER){0, 0}};
/* The last filter keeps the table from being empty. */
#define SETTINGS(bus, rate, sample_point)                                                          \
    {(rate), (sample_point), filters_##bus, sizeof filters_##bus / sizeof filters_##bus[0] - 1u},

BOARD_BUSES(FILTERS)

static const hardware_bus settings[] = {BOARD_BUSES(SETTINGS)};
static bus_state states[BOARD_BUS_COUNT];
#if LOCUM_GUARDS
static uint8_t silence;
#endif

void locum_port_init(void)
{
    hardware_start();
    hardware_led(true);
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        hardware_can_start(bus, &settings[bus]);
    }
}

uint32_t locum_port_now_us(void)
{
    return hardware_now_us();
}

locum_input_set locum_port_inputs(void)
{
    return hardware_inputs();
}

static void hand_over(bus_state *state)
{
    const locum_frame *const frame = mailboxes_next(&state->boxes);

    state->stuck = false;
    if (frame == 0 || state->off) {
        return;
    }
    if (hardware_can_give(frame)) {
        mailboxes_hand_over(&state->boxes, frame);
    } else {
        state->stuck = true;
    }
}

/* A more urgent frame takes the place of one that the controller has, if that is not on the wire.
 */
#if LOCUM_OUTPUTS
void locum_port_outputs(locum_output_set levels)
{
    hardware_outputs(levels);
}
#endif

bool locum_port_send(const locum_frame *frame)
{
    bus_state *const state = &states[frame->bus];

    if (!mailboxes_put(&state->boxes, frame)) {
        return false;
    }
    if (mailboxes_driver_has(&state->boxes) && hardware_can_abort(frame->bus)) {
        mailboxes_lost(&state->boxes);
    }
    hand_over(state);
    return true;
}

#if LOCUM_LISTENS
bool locum_port_receive(locum_frame *frame)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if (hardware_can_take(bus, frame)) {
            frame->bus = bus;
            return true;
        }
    }
    return false;
}
#endif

#if LOCUM_WATCHES_LEAVING
bool locum_port_waits(uint8_t bus, uint32_t id)
{
    return mailboxes_hold(&states[bus].boxes, id);
}
#endif

#if LOCUM_GUARDS
void locum_port_withdraw(uint8_t bus)
{
    mailboxes_withdraw(&states[bus].boxes);
    if (mailboxes_driver_has(&states[bus].boxes) && hardware_can_abort(bus)) {
        mailboxes_lost(&states[bus].boxes);
    }
}

void locum_port_led(uint8_t code)
{
    silence = code;
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool locum_port_bus_off(uint8_t bus)
{
    return states[bus].off;
}

void locum_port_restart(uint8_t bus)
{
    mailboxes_lost(&states[bus].boxes);
    hardware_can_restart(bus);
}
#endif

#if LOCUM_GUARD_KEEP
locum_reset_cause locum_port_reset_cause(void)
{
    return hardware_reset_cause();
}
#endif

static void look_at(uint8_t bus)
{
    bus_state *const state = &states[bus];
    const bool was_off = state->off;

    if (hardware_can_has_sent(bus)) {
        mailboxes_sent(&state->boxes);
    }
    state->off = hardware_can_is_off(bus);
#if !LOCUM_GUARD_BUS_OFF
    if (state->off && !was_off) {
        mailboxes_lost(&state->boxes);
        hardware_can_restart(bus);
    }
#else
    (void)was_off;
#endif
    hand_over(state);
}

static uint32_t longest_wait_us(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if (states[bus].stuck) {
            return RETRY_US;
        }
    }
    return SLICE_US;
}

static void show(uint32_t now_us)
{
#if LOCUM_GUARDS
    if (silence != LOCUM_TALKS) {
        const uint32_t part = CODE_PART(now_us);

        hardware_led((part & 1u) == 0u && part < 2u * silence);
        return;
    }
#endif
    (void)now_us;
    hardware_led(true);
}

void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room)
{
    const uint32_t now_us = hardware_now_us();
    uint32_t wait_us = longest_wait_us();

    (void)wants_room; /* what leaves a bus always ends the wait */
    if (has_due && (int32_t)(due_us - now_us) < (int32_t)wait_us) {
        wait_us = (int32_t)(due_us - now_us) > 0 ? due_us - now_us : 0u;
    }
    hardware_feed_watchdog();
    show(now_us);
    if (wait_us != 0u) {
        hardware_sleep(wait_us);
    }
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        look_at(bus);
    }
}
