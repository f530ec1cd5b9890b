/*
 * The controllers, as cortexm_port.c sees them, and their transmit queues. Of the frames in a queue
 * the one that wins arbitration goes first; each that has left is told by an event, with the number
 * that it got here.
 */
#include "mcp2518fd.h"

#include <string.h>

#define MAILBOXES 3u
#define HEADER_WORDS 2u
#define WORDS (HEADER_WORDS + LOCUM_MAX_LENGTH / 4u)
/* Frames that wait for a controller so long mean trouble. */
#define NO_ROOM_US 1000000u
/* How often the controllers are looked after. */
#define LOOK_AFTER_US 40000u

typedef struct {
    uint32_t ids[MAILBOXES]; /* with the marks of locum_frame.h */
    bool waits[MAILBOXES];
    bool answers;
    bool joined;
    bool flushes; /* the queue is to be emptied when nothing of it is on the wire */
    bool asks;    /* events pull the interrupt line */
} controller_state;

static controller_state states[BOARD_CONTROLLER_COUNT];
static uint32_t had_room_us;

bool can_answers(uint8_t bus)
{
    return states[bus].answers;
}

void can_forget(uint8_t bus)
{
    states[bus] = (controller_state){.answers = states[bus].answers};
}

void can_start(void)
{
    spi_start(BOARD_SPI_DIVISOR);
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        states[bus].answers = controller_start(bus);
    }
}

static bool any_waits(const controller_state *state)
{
    return state->waits[0] || state->waits[1] || state->waits[2];
}

/* An address within the controller's memory; else nothing sensible answered. */
static bool is_sane(uint32_t address)
{
    return address < MCP_RAM_BYTES && address % 4u == 0u;
}

/* Takes the events of frames that have left. */
static void take_events(uint8_t bus)
{
    controller_state *const state = &states[bus];

    for (uint32_t left = MAILBOXES; left != 0u && any_waits(state); left--) {
        uint32_t status[2];
        uint32_t event[2];

        link_read(bus, MCP_TEFSTA, status, 2);
        if ((status[0] & MCP_STA_READY) == 0u || !is_sane(status[1])) {
            return;
        }
        link_read(bus, MCP_RAM + status[1], event, 2);
        link_write_byte(bus, MCP_TEFCON + 1u, MCP_UINC);
        if (event[1] >> MCP_OBJ_SEQ_SHIFT < MAILBOXES) {
            state->waits[event[1] >> MCP_OBJ_SEQ_SHIFT] = false;
        }
    }
}

/* Empties a queue whose frames were taken back. False: one is on the wire still. */
static bool flush(uint8_t bus)
{
    controller_state *const state = &states[bus];

    take_events(bus);
    if ((link_read_word(bus, MCP_TXQCON) >> 8 & MCP_TXREQ) != 0u) {
        return false;
    }
    take_events(bus);
    link_write_byte(bus, MCP_TXQCON + 1u, MCP_FRESET);
    memset(state->waits, 0, sizeof state->waits);
    state->flushes = false;
    return true;
}

static uint32_t object_id(uint32_t id)
{
    if ((id & LOCUM_ID_EXTENDED) == 0u) {
        return id & 0x7FFu;
    }
    return (id >> 18 & 0x7FFu) | (id & 0x3FFFFu) << MCP_OBJ_EID_SHIFT;
}

/* The length must be one that a frame can have: 0 to 8, 12, 16, 20, 24, 32, 48 or 64. */
static uint32_t length_code(uint32_t length)
{
    if (length <= 8u) {
        return length;
    }
    return length <= 24u ? 9u + (length - 12u) / 4u : 11u + length / 16u;
}

static uint32_t object_flags(const locum_frame *frame, uint32_t number)
{
    uint32_t flags = length_code(frame->length) | number << MCP_OBJ_SEQ_SHIFT;

    if ((frame->id & LOCUM_ID_EXTENDED) != 0u) {
        flags |= MCP_OBJ_IDE;
    }
    if ((frame->id & LOCUM_ID_FD) != 0u) {
        flags |= MCP_OBJ_FDF;
    }
    if ((frame->id & LOCUM_ID_SWITCH_RATE) != 0u) {
        flags |= MCP_OBJ_BRS;
    }
    return flags;
}

static bool holds(const controller_state *state, uint32_t id)
{
    for (uint32_t i = 0; i < MAILBOXES; i++) {
        if (state->waits[i] && state->ids[i] == id) {
            return true;
        }
    }
    return false;
}

/* Frames may be given to a controller only when it takes part in its bus. */
static bool is_ready(uint8_t bus)
{
    controller_state *const state = &states[bus];

    if (!state->answers || (state->flushes && !flush(bus))) {
        return false;
    }
    state->joined = state->joined || controller_takes_part(bus);
    return state->joined;
}

static uint32_t request(uint8_t bus)
{
#if LOCUM_GUARD_BUS_OFF
    if (can_holds_back(bus)) {
        return 0;
    }
#endif
    (void)bus;
    return MCP_TXREQ;
}

bool can_send(const locum_frame *frame)
{
    const uint8_t bus = frame->bus;
    controller_state *const state = &states[bus];
    uint32_t object[WORDS];
    uint32_t status[2];
    uint32_t number = 0;

    if (!is_ready(bus)) {
        return false;
    }
    take_events(bus);
    while (number < MAILBOXES && state->waits[number]) {
        number++;
    }
    if (number == MAILBOXES || holds(state, frame->id)) {
        return false;
    }
    link_read(bus, MCP_TXQSTA, status, 2);
    if ((status[0] & MCP_STA_READY) == 0u || !is_sane(status[1])) {
        return false;
    }
    object[0] = object_id(frame->id);
    object[1] = object_flags(frame, number);
    memcpy(&object[HEADER_WORDS], frame->data, frame->length);
    link_write(bus, MCP_RAM + status[1], object, HEADER_WORDS + (frame->length + 3u) / 4u);
    link_write_byte(bus, MCP_TXQCON + 1u, (uint8_t)(MCP_UINC | request(bus)));
    state->ids[number] = frame->id;
    state->waits[number] = true;
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
    take_events(bus);
    return holds(&states[bus], id);
}
#endif

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
    take_events(bus);
    if (any_waits(&states[bus])) {
        link_write_byte(bus, MCP_TXQCON + 1u, 0); /* TXREQ: one on the wire goes on */
        states[bus].flushes = true;
        (void)flush(bus);
    }
}
#endif

#if LOCUM_GUARD_BUS_OFF
void can_begin(uint8_t bus)
{
#if LOCUM_LISTENS
    controller_listen(bus);
#endif
    if (any_waits(&states[bus])) {
        link_write_byte(bus, MCP_TXQCON + 1u, MCP_TXREQ);
    }
}
#endif

/* A controller that lost its supply, or was reset by a glitch, gets its settings again, without the
 * frames it had; one that does not answer is asked again each time. */
static void look_after(uint32_t now_us)
{
    static uint32_t looked_us;

    if (now_us - looked_us < LOOK_AFTER_US) {
        return;
    }
    looked_us = now_us;
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
#if LOCUM_GUARD_BUS_OFF
        if (can_is_off(bus)) {
            continue;
        }
#endif
        if (controller_is_configured(bus)) {
            states[bus].answers = true;
        } else if (controller_awaits_settings(bus)) {
            controller_configure(bus);
#if LOCUM_LISTENS
            controller_listen(bus);
#endif
            controller_join(bus);
            can_forget(bus);
            states[bus].answers = true;
        } else {
            link_reset(bus);
            can_forget(bus);
            states[bus].answers = false;
        }
    }
}

static void ask_for_events(uint8_t bus, bool ask)
{
    if (states[bus].asks != ask) {
        states[bus].asks = ask;
        link_write_byte(
            bus, MCP_INT + 2u, /* the enables of flags 0 to 7 */
            (uint8_t)((LOCUM_LISTENS ? MCP_INT_RXIF : 0u) | (ask ? MCP_INT_TEFIF : 0u)));
    }
}

void can_wake(bool enable)
{
    const uint32_t now_us = timer_now();

    look_after(now_us);
    if (!enable) {
        had_room_us = now_us;
    }
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if (states[bus].flushes) {
            (void)flush(bus);
        }
        if (states[bus].answers) {
            ask_for_events(bus, enable && any_waits(&states[bus]));
        }
        pins_heed(bus, states[bus].answers);
    }
}

bool can_is_on_bus(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if (states[bus].answers && (!states[bus].joined || states[bus].flushes)) {
            return false;
        }
    }
    return true;
}

bool can_is_in_trouble(void)
{
    return timer_now() - had_room_us >= NO_ROOM_US;
}
