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

/* Of a classic frame; a consecutive frame carries one byte less than its first frame has. */
enum { FRAME_BYTES = 8, SINGLE_BYTES = 7 };
/* In front of what they carry. */
enum { SINGLE_HEAD = 1, LONG_SINGLE_HEAD = 2, FIRST_HEAD = 2, CONSECUTIVE_HEAD = 1 };

#define TIMEOUT_US 1000000u
#define SESSION_US 5000000u

/* Of the longest frame that is sent. */
static uint8_t frame_bytes(const locum_channel_rule *rule)
{
#if LOCUM_CHANNEL_FD
    return LOCUM_ROM_U8(rule->frame_length);
#else
    (void)rule;
    return FRAME_BYTES;
#endif
}

/* Of the longest frame that is taken. */
static uint8_t most_bytes(const locum_channel_rule *rule)
{
#if LOCUM_CHANNEL_FD
    return LOCUM_ROM_U8(rule->fd) != 0u ? (uint8_t)LOCUM_MAX_LENGTH : (uint8_t)FRAME_BYTES;
#else
    (void)rule;
    return FRAME_BYTES;
#endif
}

/* What one frame of so many bytes can carry alone. */
static uint8_t single_bytes(uint8_t length)
{
    return length > FRAME_BYTES ? (uint8_t)(length - LONG_SINGLE_HEAD) : SINGLE_BYTES;
}

static void start_timer(locum_channel_state *state, uint32_t now_us)
{
    state->timed = true;
    state->timer_us = now_us + TIMEOUT_US;
}

/* Asks for a frame at a time; from then on it has to leave in time. */
static locum_channel_wish ask(locum_channel_state *state, uint32_t at_us, uint32_t *release_us)
{
    state->leaving = false; /* whatever a controller still holds is of no interest any more */
    start_timer(state, at_us);
    *release_us = at_us;
    return LOCUM_CHANNEL_ASKS;
}

static void become_idle(locum_channel_state *state, uint32_t now_us)
{
    state->phase = IDLE;
    state->timed = false;
#if LOCUM_CHANNEL_SLOW
    state->pends = false;
#endif
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

#if LOCUM_CHANNEL_SLOW
/* The answer, or word that it takes longer than the tester waits: 50 ms, or 5 s when told so. */
static locum_channel_wish answer_in_time(locum_channel_state *state, uint32_t limit_us,
                                         uint32_t now_us, uint32_t *release_us)
{
    const uint32_t at_us = reached(now_us, state->answer_us) ? now_us : state->answer_us;

    state->pends = at_us - now_us > limit_us;
    return ask(state, state->pends ? now_us + limit_us / 5u * 4u : at_us, release_us);
}
#endif

static locum_channel_wish complete(const locum_channel_rule *rule, locum_channel_state *state,
                                   bool functional, uint32_t now_us, uint32_t *release_us)
{
    const locum_uds_request request = {state->request, (uint8_t)state->length, functional};
    uint32_t after_us;

    state->session_timed = false;
    state->flow = 0;
    state->at = 0;
    state->length =
        locum_uds_answer(&rule->uds, &state->session, &request, state->answer, &after_us);
    if (state->length == 0u) {
        state->leaving = false;
        become_idle(state, now_us);
        return LOCUM_CHANNEL_DROPS;
    }
    state->phase = ANSWERING;
#if LOCUM_CHANNEL_SLOW
    state->answer_us = now_us + after_us;
    return answer_in_time(state, LOCUM_UDS_P2_US, now_us, release_us);
#else
    return ask(state, now_us + after_us, release_us);
#endif
}

static locum_channel_wish reply(locum_channel_state *state, uint8_t flow, uint32_t now_us,
                                uint32_t *release_us)
{
    state->flow = flow;
    return ask(state, now_us, release_us);
}

static locum_channel_wish take_single(const locum_channel_rule *rule, locum_channel_state *state,
                                      const uint8_t *data, uint8_t length, bool functional,
                                      uint32_t now_us, uint32_t *release_us)
{
    uint8_t head = SINGLE_HEAD;
    uint8_t count = data[0];

    if (length > FRAME_BYTES) {
        if (count != 0u || data[1] <= SINGLE_BYTES) {
            return LOCUM_CHANNEL_RESTS;
        }
        head = LONG_SINGLE_HEAD;
        count = data[1];
    }
    if (count == 0u || count > single_bytes(length) || count + head > length) {
        return LOCUM_CHANNEL_RESTS;
    }
    copy(state->request, &data[head], count);
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
        length >= FRAME_BYTES && (data[2] != 0u || data[3] != 0u || (data[4] & 0xF0u) != 0u);

    if (length < FRAME_BYTES || (escaped ? !large : count <= single_bytes(length))) {
        return LOCUM_CHANNEL_RESTS;
    }
    if (escaped || count > LOCUM_REQUEST_BYTES) {
        become_idle(state, now_us);
        return reply(state, FLOW_OVERFLOW, now_us, release_us);
    }
    state->phase = RECEIVING;
    state->session_timed = false;
    state->length = count;
    state->at = (uint8_t)(length - FIRST_HEAD);
    copy(state->request, &data[FIRST_HEAD], (uint8_t)state->at);
    state->sequence = 1;
    state->block = LOCUM_ROM_U8(rule->block_size);
#if LOCUM_CHANNEL_FD
    state->first_length = length;
#endif
    return reply(state, FLOW_CONTINUE, now_us, release_us);
}

static locum_channel_wish take_consecutive(const locum_channel_rule *rule,
                                           locum_channel_state *state, const uint8_t *data,
                                           uint8_t length, uint32_t now_us, uint32_t *release_us)
{
#if LOCUM_CHANNEL_FD
    const uint8_t longest = state->first_length;
#else
    const uint8_t longest = FRAME_BYTES;
#endif
    const uint16_t missing = (uint16_t)(state->length - state->at);
    const uint8_t count =
        (uint8_t)(missing < longest ? missing : (uint16_t)(longest - CONSECUTIVE_HEAD));

    /* Nothing is expected before the flow control has left. */
    if (state->phase != RECEIVING || state->flow != 0u || length <= count || length > longest) {
        return LOCUM_CHANNEL_RESTS;
    }
    if ((data[0] & 0x0Fu) != state->sequence) {
        become_idle(state, now_us);
        return LOCUM_CHANNEL_RESTS;
    }
    copy(&state->request[state->at], &data[CONSECUTIVE_HEAD], count);
    state->at = (uint16_t)(state->at + count);
    state->sequence = (uint8_t)((state->sequence + 1u) & 0x0Fu);
    if (state->at == state->length) {
        return complete(rule, state, false, now_us, release_us);
    }
    if (state->block != 0u && --state->block == 0u) {
        state->block = LOCUM_ROM_U8(rule->block_size);
        return reply(state, FLOW_CONTINUE, now_us, release_us);
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
        state->block = data[1];
        state->separation_us = separation_us(data[2]);
        return ask(state, now_us, release_us);
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
#if LOCUM_CHANNEL_SLOW
    state->pends = false;
#endif
    state->session_timed = false;
    state->leaving = false;
}

locum_channel_wish locum_isotp_take(const locum_channel_rule *rule, locum_channel_state *state,
                                    const uint8_t *data, uint8_t length, bool functional,
                                    uint32_t now_us, uint32_t *release_us)
{
    const bool open = state->phase == IDLE || (state->phase == RECEIVING && !functional);

    if (length == 0u || length > most_bytes(rule)) {
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

/* Bytes of the answer in the next frame. */
static uint8_t portion(const locum_channel_rule *rule, const locum_channel_state *state)
{
    const uint16_t missing = (uint16_t)(state->length - state->at);
    const uint8_t bytes = frame_bytes(rule);

    if (state->at == 0u) {
        return (uint8_t)(missing <= single_bytes(bytes) ? missing : (uint16_t)(bytes - FIRST_HEAD));
    }
    return (uint8_t)(missing < bytes ? missing : (uint16_t)(bytes - CONSECUTIVE_HEAD));
}

static uint8_t compose_answer(const locum_channel_rule *rule, const locum_channel_state *state,
                              uint8_t *data)
{
    const uint8_t count = portion(rule, state);
    uint8_t head = 1; /* of a consecutive frame or a single one */

    if (state->at != 0u) {
        data[0] = (uint8_t)(CONSECUTIVE | state->sequence);
    } else if (count != state->length) {
        data[0] = (uint8_t)(FIRST | state->length >> 8);
        data[1] = (uint8_t)state->length;
        head = FIRST_HEAD;
    } else if (count <= SINGLE_BYTES) {
        data[0] = count;
    } else {
        data[0] = SINGLE;
        data[1] = count;
        head = LONG_SINGLE_HEAD;
    }
    copy(&data[head], &state->answer[state->at], count);
    return (uint8_t)(head + count);
}

static uint8_t fill(const locum_channel_rule *rule, uint8_t *data, uint8_t used)
{
    uint8_t length = LOCUM_ROM_U8(rule->padded) != 0u ? (uint8_t)FRAME_BYTES : used;

#if LOCUM_CHANNEL_FD
    if (used > 24u) {
        length = used <= 32u ? 32u : used <= 48u ? 48u : 64u;
    } else if (used > FRAME_BYTES) {
        length = (uint8_t)((used + 3u) & ~3u);
    }
#endif
    while (used < length) {
        data[used++] = LOCUM_ROM_U8(rule->padding);
    }
    return length;
}

uint8_t locum_isotp_compose(const locum_channel_rule *rule, const locum_channel_state *state,
                            uint8_t *data)
{
    uint8_t used;

    if (state->flow != 0u) {
        const bool goes_on = state->flow == FLOW_CONTINUE;

        data[0] = state->flow;
        data[1] = goes_on ? LOCUM_ROM_U8(rule->block_size) : 0u;
        data[2] = goes_on ? LOCUM_ROM_U8(rule->separation) : 0u;
        used = 3;
#if LOCUM_CHANNEL_SLOW
    } else if (state->pends) {
        data[0] = LOCUM_UDS_PENDING_BYTES;
        locum_uds_pend(state->request[0], &data[SINGLE_HEAD]);
        used = SINGLE_HEAD + LOCUM_UDS_PENDING_BYTES;
#endif
    } else {
        used = compose_answer(rule, state, data);
    }
    return fill(rule, data, used);
}

void locum_isotp_accepted(const locum_channel_rule *rule, locum_channel_state *state)
{
    const bool first = state->at == 0u;

    state->leaving = true;
    if (state->flow != 0u) {
        return;
    }
#if LOCUM_CHANNEL_SLOW
    if (state->pends) {
        return;
    }
#endif
    state->at = (uint16_t)(state->at + portion(rule, state));
    state->sequence = (uint8_t)(first ? 1u : (state->sequence + 1u) & 0x0Fu);
    if (first) {
        state->block = 1; /* a flow control is due behind this frame */
    }
}

locum_channel_wish locum_isotp_left(locum_channel_state *state, uint32_t now_us,
                                    uint32_t *release_us)
{
    state->leaving = false;
    state->timed = false;
    if (state->flow != 0u) {
        state->flow = 0;
        if (state->phase == RECEIVING) {
            start_timer(state, now_us);
        }
#if LOCUM_CHANNEL_SLOW
    } else if (state->pends) {
        return answer_in_time(state, LOCUM_UDS_P2_STAR_US, now_us, release_us);
#endif
    } else if (state->at >= state->length) {
        become_idle(state, now_us);
    } else if (state->block != 0u && --state->block == 0u) {
        state->phase = AWAITING_FLOW;
        start_timer(state, now_us);
    } else {
        return ask(state, now_us + state->separation_us, release_us);
    }
    return LOCUM_CHANNEL_RESTS;
}

locum_channel_wish locum_isotp_tick(locum_channel_state *state, uint32_t at_us)
{
    locum_channel_wish wish = LOCUM_CHANNEL_RESTS;

    if (state->timed && reached(at_us, state->timer_us)) {
        wish = LOCUM_CHANNEL_DROPS;
        state->timed = false;
        state->leaving = false;
        state->flow = 0;
        if (state->phase != IDLE) {
            become_idle(state, at_us);
        }
    }
    if (state->session_timed && reached(at_us, state->session_us)) {
        state->session_timed = false;
        state->session = LOCUM_UDS_DEFAULT_SESSION;
    }
    return wish;
}

#endif
