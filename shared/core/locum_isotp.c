#include "locum_isotp.h"

#if LOCUM_CHANNELS

#include "locum_time.h"

enum {
    IDLE,
    RECEIVING,
    ANSWERING,
    AWAITING_FLOW /* of an answer */
};

/* High nibble of a frame's first byte. */
enum { SINGLE = 0x00, FIRST = 0x10, CONSECUTIVE = 0x20, FLOW = 0x30 };
/* First byte of a flow control. */
enum { FLOW_CONTINUE = 0x30, FLOW_WAIT = 0x31, FLOW_OVERFLOW = 0x32 };

enum { FRAME_BYTES = 8, SINGLE_BYTES = 7, FIRST_BYTES = 6, CONSECUTIVE_BYTES = 7 };

#define TIMEOUT_US 1000000u
#define SESSION_US 5000000u

static void start_timer(locum_channel_state *state, uint32_t now_us)
{
    state->timed = true;
    state->timer_us = now_us + TIMEOUT_US;
}

static void become_idle(locum_channel_state *state, uint32_t now_us)
{
    state->phase = IDLE;
    state->timed = false;
    state->session_timed = state->session != LOCUM_UDS_DEFAULT_SESSION;
    state->session_us = now_us + SESSION_US;
}

static uint32_t separation_us(uint8_t code)
{
    if (code <= 0x7Fu) {
        return code * (uint32_t)1000u;
    }
    return code >= 0xF1u && code <= 0xF9u ? (code - 0xF0u) * (uint32_t)100u : 127000u;
}

static void copy(uint8_t *to, const uint8_t *from, uint8_t count)
{
    for (uint8_t i = 0; i < count; i++) {
        to[i] = from[i];
    }
}

/* ---- requests ---- */

static locum_channel_wish complete(const locum_channel_rule *rule, locum_channel_state *state,
                                   bool functional, uint32_t now_us, uint32_t *release_us)
{
    const locum_uds_request request = {state->request, (uint8_t)state->length, functional};

    state->timed = false;
    state->session_timed = false;
    state->leaving = false; /* whatever a controller still holds is of no interest any more */
    state->flow = 0;
    state->at = 0;
    state->length = locum_uds_answer(&rule->uds, &state->session, &request, state->answer);
    if (state->length == 0u) {
        become_idle(state, now_us);
        return LOCUM_CHANNEL_DROPS;
    }
    state->phase = ANSWERING;
    *release_us = now_us + LOCUM_ROM_U32(rule->answer_after_us);
    return LOCUM_CHANNEL_ASKS;
}

static locum_channel_wish ask_for_more(locum_channel_state *state, uint8_t flow, uint32_t now_us,
                                       uint32_t *release_us)
{
    state->flow = flow;
    state->leaving = false;
    state->timed = false; /* until the flow control has left */
    *release_us = now_us;
    return LOCUM_CHANNEL_ASKS;
}

static locum_channel_wish take_single(const locum_channel_rule *rule, locum_channel_state *state,
                                      const uint8_t *data, uint8_t length, bool functional,
                                      uint32_t now_us, uint32_t *release_us)
{
    const uint8_t count = data[0];

    if (count == 0u || count > SINGLE_BYTES || count >= length) {
        return LOCUM_CHANNEL_RESTS;
    }
    copy(state->request, &data[1], count);
    state->length = count;
    return complete(rule, state, functional, now_us, release_us);
}

static locum_channel_wish take_first(const locum_channel_rule *rule, locum_channel_state *state,
                                     const uint8_t *data, uint8_t length, uint32_t now_us,
                                     uint32_t *release_us)
{
    const uint16_t count = (uint16_t)((data[0] & 0x0Fu) << 8 | (length > 1u ? data[1] : 0u));
    const bool escaped = count == 0u;
    /* At least 4096, so that one of the bits above the lowest twelve is set. */
    const bool large =
        length == FRAME_BYTES && (data[2] != 0u || data[3] != 0u || (data[4] & 0xF0u) != 0u);

    if (length != FRAME_BYTES || (escaped ? !large : count < FRAME_BYTES)) {
        return LOCUM_CHANNEL_RESTS;
    }
    if (escaped || count > LOCUM_REQUEST_BYTES) {
        become_idle(state, now_us);
        return ask_for_more(state, FLOW_OVERFLOW, now_us, release_us);
    }
    copy(state->request, &data[2], FIRST_BYTES);
    state->phase = RECEIVING;
    state->session_timed = false;
    state->length = count;
    state->at = FIRST_BYTES;
    state->sequence = 1;
    state->block = LOCUM_ROM_U8(rule->block_size);
    return ask_for_more(state, FLOW_CONTINUE, now_us, release_us);
}

static locum_channel_wish take_consecutive(const locum_channel_rule *rule,
                                           locum_channel_state *state, const uint8_t *data,
                                           uint8_t length, uint32_t now_us, uint32_t *release_us)
{
    const uint16_t missing = (uint16_t)(state->length - state->at);
    const uint8_t count = (uint8_t)(missing < CONSECUTIVE_BYTES ? missing : CONSECUTIVE_BYTES);

    /* Nothing is expected before the flow control has left. */
    if (state->phase != RECEIVING || state->flow != 0u || length <= count) {
        return LOCUM_CHANNEL_RESTS;
    }
    if ((data[0] & 0x0Fu) != state->sequence) {
        become_idle(state, now_us);
        return LOCUM_CHANNEL_RESTS;
    }
    copy(&state->request[state->at], &data[1], count);
    state->at = (uint16_t)(state->at + count);
    state->sequence = (uint8_t)((state->sequence + 1u) & 0x0Fu);
    if (state->at == state->length) {
        return complete(rule, state, false, now_us, release_us);
    }
    if (state->block != 0u && --state->block == 0u) {
        state->block = LOCUM_ROM_U8(rule->block_size);
        return ask_for_more(state, FLOW_CONTINUE, now_us, release_us);
    }
    start_timer(state, now_us);
    return LOCUM_CHANNEL_RESTS;
}

static locum_channel_wish take_flow(locum_channel_state *state, const uint8_t *data, uint8_t length,
                                    uint32_t now_us, uint32_t *release_us)
{
    if (state->phase != AWAITING_FLOW || length < 3u) {
        return LOCUM_CHANNEL_RESTS;
    }
    switch (data[0]) {
    case FLOW_CONTINUE:
        state->phase = ANSWERING;
        state->timed = false;
        state->block = data[1];
        state->separation_us = separation_us(data[2]);
        *release_us = now_us;
        return LOCUM_CHANNEL_ASKS;
    case FLOW_WAIT:
        start_timer(state, now_us);
        break;
    default:
        become_idle(state, now_us);
        break;
    }
    return LOCUM_CHANNEL_RESTS;
}

/* ---- public ---- */

void locum_isotp_reset(locum_channel_state *state)
{
    state->phase = IDLE;
    state->flow = 0;
    state->session = LOCUM_UDS_DEFAULT_SESSION;
    state->timed = false;
    state->session_timed = false;
    state->leaving = false;
}

locum_channel_wish locum_isotp_take(const locum_channel_rule *rule, locum_channel_state *state,
                                    const uint8_t *data, uint8_t length, bool functional,
                                    uint32_t now_us, uint32_t *release_us)
{
    const bool open = state->phase == IDLE || (state->phase == RECEIVING && !functional);

    if (length == 0u || length > FRAME_BYTES) {
        return LOCUM_CHANNEL_RESTS;
    }
    switch (data[0] & 0xF0u) {
    case SINGLE:
        return open ? take_single(rule, state, data, length, functional, now_us, release_us)
                    : LOCUM_CHANNEL_RESTS;
    case FIRST:
        return open && !functional ? take_first(rule, state, data, length, now_us, release_us)
                                   : LOCUM_CHANNEL_RESTS;
    case CONSECUTIVE:
        return functional ? LOCUM_CHANNEL_RESTS
                          : take_consecutive(rule, state, data, length, now_us, release_us);
    case FLOW:
        return functional ? LOCUM_CHANNEL_RESTS
                          : take_flow(state, data, length, now_us, release_us);
    default:
        return LOCUM_CHANNEL_RESTS;
    }
}

uint8_t locum_isotp_compose(const locum_channel_rule *rule, const locum_channel_state *state,
                            uint8_t *data)
{
    const uint16_t missing = (uint16_t)(state->length - state->at);
    uint8_t used;

    if (state->flow != 0u) {
        const bool goes_on = state->flow == FLOW_CONTINUE;

        data[0] = state->flow;
        data[1] = goes_on ? LOCUM_ROM_U8(rule->block_size) : 0u;
        data[2] = goes_on ? LOCUM_ROM_U8(rule->separation) : 0u;
        used = 3;
    } else if (state->length <= SINGLE_BYTES) {
        used = (uint8_t)(state->length + 1u);
        data[0] = (uint8_t)state->length;
        copy(&data[1], state->answer, (uint8_t)state->length);
    } else if (state->at == 0u) {
        used = FRAME_BYTES;
        data[0] = (uint8_t)(FIRST | state->length >> 8);
        data[1] = (uint8_t)state->length;
        copy(&data[2], state->answer, FIRST_BYTES);
    } else {
        const uint8_t count = (uint8_t)(missing < CONSECUTIVE_BYTES ? missing : CONSECUTIVE_BYTES);

        used = (uint8_t)(count + 1u);
        data[0] = (uint8_t)(CONSECUTIVE | state->sequence);
        copy(&data[1], &state->answer[state->at], count);
    }
    if (LOCUM_ROM_U8(rule->padded) != 0u) {
        while (used < FRAME_BYTES) {
            data[used++] = LOCUM_ROM_U8(rule->padding);
        }
    }
    return used;
}

void locum_isotp_accepted(locum_channel_state *state)
{
    state->leaving = true;
    if (state->flow != 0u) {
        return;
    }
    if (state->length <= SINGLE_BYTES) {
        state->at = state->length;
    } else if (state->at == 0u) {
        state->at = FIRST_BYTES;
        state->sequence = 1;
        state->block = 1; /* a flow control is due behind this frame */
    } else {
        const uint16_t missing = (uint16_t)(state->length - state->at);

        state->at =
            (uint16_t)(state->at + (missing < CONSECUTIVE_BYTES ? missing : CONSECUTIVE_BYTES));
        state->sequence = (uint8_t)((state->sequence + 1u) & 0x0Fu);
    }
}

locum_channel_wish locum_isotp_left(locum_channel_state *state, uint32_t now_us,
                                    uint32_t *release_us)
{
    state->leaving = false;
    if (state->flow != 0u) {
        state->flow = 0;
        if (state->phase == RECEIVING) {
            start_timer(state, now_us);
        }
    } else if (state->at >= state->length) {
        become_idle(state, now_us);
    } else if (state->block != 0u && --state->block == 0u) {
        state->phase = AWAITING_FLOW;
        start_timer(state, now_us);
    } else {
        *release_us = now_us + state->separation_us;
        return LOCUM_CHANNEL_ASKS;
    }
    return LOCUM_CHANNEL_RESTS;
}

void locum_isotp_tick(locum_channel_state *state, uint32_t at_us)
{
    if (state->timed && reached(at_us, state->timer_us)) {
        become_idle(state, at_us);
    }
    if (state->session_timed && reached(at_us, state->session_us)) {
        state->session_timed = false;
        state->session = LOCUM_UDS_DEFAULT_SESSION;
    }
}

#endif
