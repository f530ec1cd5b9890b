#include "locum_core.h"

#if LOCUM_NODES

#include "locum_time.h"

enum { OFF, CLAIMING, OWNING, LOST };

/* Kinds of frames in their order; also what leaves a controller. */
enum { NOTHING, CLAIM, REFUSAL, ANSWER, TRANSFER };

/* Codes of refusals. */
enum { NOT_KNOWN = 1, BUSY = 3 };

#define NOBODY 254u
#define EVERYBODY 255u
#define FIRST_WAITING 128u /* addresses that wait for objections */
#define LAST_WAITING 247u
#define FRAME_BYTES 8u
#define MOST_ANSWERS 32u
#define NO_ANSWER 0xFFu

#define WAIT_US 250000u
#define DELAY_US 600u /* a random number of these */

/* Groups without their last byte, shifted into an identifier with priority 6 or 7. */
#define ID_REFUSAL (LOCUM_ID_EXTENDED | 0x18E80000u)
#define ID_CLAIM (LOCUM_ID_EXTENDED | 0x18EE0000u)
#define ID_ANSWER (LOCUM_ID_EXTENDED | 0x18000000u)
#define ID_CONNECTION (LOCUM_ID_EXTENDED | 0x1CEC0000u)
#define ID_PACKET (LOCUM_ID_EXTENDED | 0x1CEB0000u)
#define GROUP_CLAIM 0x00EE00u

static uint32_t read_group(const uint8_t *data)
{
    return data[0] | (uint32_t)data[1] << 8 | (uint32_t)data[2] << 16;
}

static void write_group(uint8_t *data, uint32_t group)
{
    data[0] = (uint8_t)group;
    data[1] = (uint8_t)(group >> 8);
    data[2] = (uint8_t)(group >> 16);
}

static bool has_destination(uint32_t group)
{
    return (group & 0xFF00u) < 0xF000u;
}

static uint32_t to_destination(uint8_t destination)
{
    return (uint32_t)destination << 8;
}

static void start_node_timer(locum_node_state *state, uint32_t from_us, uint32_t delay_us)
{
    state->timed = true;
    state->timer_us = from_us + delay_us;
}

/* ---- transfers ---- */

#if LOCUM_NODE_TRANSFERS
enum { NO_TRANSFER, OPENS, PACES, SENDS, WAITS, ENDS };

/* First byte of connection management. */
enum { OPEN = 0x10, GO = 0x11, RECEIVED = 0x13, OPEN_TO_ALL = 0x20, END = 0xFF };

/* Why a transfer ends. */
enum { TOO_LATE = 3, GO_WHILE_SENDING = 4 };

#define PACKET_BYTES 7u
#define ANSWER_US 1250000u
#define HOLD_US 1050000u

static uint16_t length_of(const locum_node_rule *rule, const locum_node_state *state)
{
    const locum_group_answer *answers = LOCUM_ROM_FN(const locum_group_answer *, rule->answers);

    return LOCUM_ROM_U16(answers[state->answer].length);
}

static uint32_t group_of(const locum_node_rule *rule, const locum_node_state *state)
{
    const locum_group_answer *answers = LOCUM_ROM_FN(const locum_group_answer *, rule->answers);

    return LOCUM_ROM_U32(answers[state->answer].group);
}

static uint8_t packets_of(const locum_node_rule *rule, const locum_node_state *state)
{
    return (uint8_t)((length_of(rule, state) + PACKET_BYTES - 1u) / PACKET_BYTES);
}

/* Whatever of the transfer still leaves a controller is of no interest any more. */
static void turn(locum_node_state *state, uint8_t step)
{
    state->transfer = step;
    state->timed = false;
    if (state->flying == TRANSFER) {
        state->flying = NOTHING;
    }
}

static void end_with(locum_node_state *state, uint8_t reason)
{
    turn(state, ENDS);
    state->reason = reason;
}

static bool transfer_wants(const locum_node_state *state)
{
    return state->transfer == OPENS || state->transfer == SENDS || state->transfer == ENDS;
}

/* False if another transfer is running. One that gives the asker what it wants is none. */
static bool transfer_begins(locum_node_state *state, uint8_t answer, uint8_t to)
{
    if (state->transfer != NO_TRANSFER) {
        return state->answer == answer && (state->to == EVERYBODY || state->to == to);
    }
    state->transfer = OPENS;
    state->answer = answer;
    state->to = to;
    state->packet = 1;
    state->left = 0;
    return true;
}

static void transfer_let_go(const locum_node_rule *rule, locum_node_state *state,
                            const uint8_t *data, uint32_t now_us)
{
    const uint8_t packets = packets_of(rule, state);
    const uint8_t first = data[2];

    if (state->transfer == SENDS) {
        end_with(state, GO_WHILE_SENDING);
    } else if (state->transfer == WAITS && data[1] == 0u) {
        start_node_timer(state, now_us, HOLD_US);
    } else if (state->transfer == WAITS && first != 0u && first <= packets) {
        const uint8_t there = (uint8_t)((uint8_t)(packets - first) + 1u);

        turn(state, SENDS);
        state->packet = first;
        state->left = data[1] < there ? data[1] : there;
    }
}

static void transfer_take(const locum_node_rule *rule, locum_node_state *state, uint32_t id,
                          const uint8_t *data, uint32_t now_us)
{
    if (state->transfer == NO_TRANSFER || state->to == EVERYBODY || (uint8_t)id != state->to ||
        read_group(&data[5]) != group_of(rule, state)) {
        return;
    }
    if (data[0] == GO) {
        transfer_let_go(rule, state, data, now_us);
    } else if (data[0] == RECEIVED || data[0] == END) {
        turn(state, NO_TRANSFER);
    }
}

static uint8_t transfer_compose(const locum_node_rule *rule, const locum_node_state *state,
                                uint32_t *id, uint8_t *data)
{
    const uint16_t length = length_of(rule, state);

    if (state->transfer == SENDS) {
        const locum_group_answer *answers = LOCUM_ROM_FN(const locum_group_answer *, rule->answers);
        const uint8_t *bytes = LOCUM_ROM_FN(const uint8_t *, answers[state->answer].bytes);
        uint16_t at = (uint16_t)((state->packet - 1u) * PACKET_BYTES);

        *id = ID_PACKET | to_destination(state->to) | LOCUM_ROM_U8(rule->address);
        data[0] = state->packet;
        for (uint8_t i = 1; i < FRAME_BYTES; i++, at++) {
            data[i] = at < length ? LOCUM_ROM_U8(bytes[at]) : (uint8_t)0xFFu;
        }
        return FRAME_BYTES;
    }
    *id = ID_CONNECTION | to_destination(state->to) | LOCUM_ROM_U8(rule->address);
    if (state->transfer == ENDS) {
        data[0] = END;
        data[1] = state->reason;
        data[2] = 0xFFu;
        data[3] = 0xFFu;
    } else {
        data[0] = state->to == EVERYBODY ? (uint8_t)OPEN_TO_ALL : (uint8_t)OPEN;
        data[1] = (uint8_t)length;
        data[2] = (uint8_t)(length >> 8);
        data[3] = packets_of(rule, state);
    }
    data[4] = 0xFFu;
    write_group(&data[5], group_of(rule, state));
    return FRAME_BYTES;
}

static void transfer_left(const locum_node_rule *rule, locum_node_state *state, uint32_t now_us)
{
    const bool sent = state->transfer == SENDS;
    const bool last = state->packet == packets_of(rule, state);

    if (state->transfer == ENDS || (sent && last && state->to == EVERYBODY)) {
        turn(state, NO_TRANSFER);
        return;
    }
    if (sent) {
        state->packet++;
    }
    if (state->to == EVERYBODY) {
        state->transfer = PACES;
        start_node_timer(state, now_us, LOCUM_ROM_U32(rule->spacing_us));
    } else if (!sent || --state->left == 0u) {
        state->transfer = WAITS;
        start_node_timer(state, now_us, ANSWER_US);
    }
}

static void transfer_tick(locum_node_state *state)
{
    if (state->transfer == PACES) {
        turn(state, SENDS);
    } else {
        end_with(state, TOO_LATE);
    }
}
#endif

/* ---- the address ---- */

static void forget(locum_node_state *state)
{
    state->claim = false;
    state->refusal = 0;
    state->answers = 0;
    state->timed = false;
    state->flying = NOTHING;
#if LOCUM_NODE_TRANSFERS
    state->transfer = NO_TRANSFER;
#endif
}

/* Says later that there is no address. */
static void say_lost(locum_node_state *state, uint32_t now_us)
{
    uint32_t random = state->random;

    random ^= random << 13;
    random ^= random >> 17;
    random ^= random << 5;
    state->random = random;
    start_node_timer(state, now_us, DELAY_US * (random & 0xFFu));
}

static bool is_lower(const locum_node_rule *rule, const uint8_t *name)
{
    for (uint8_t i = FRAME_BYTES; i-- > 0u;) {
        const uint8_t own = LOCUM_ROM_U8(rule->name[i]);

        if (own != name[i]) {
            return own < name[i];
        }
    }
    return false;
}

static void take_claim(const locum_node_rule *rule, locum_node_state *state, const uint8_t *name,
                       uint32_t now_us)
{
    if (state->phase == LOST) {
        return;
    }
    if (is_lower(rule, name)) {
        state->claim = true;
        return;
    }
    forget(state);
    state->phase = LOST;
    say_lost(state, now_us);
}

static void note_claimed(const locum_node_rule *rule, locum_node_state *state, uint32_t now_us)
{
    const uint8_t address = LOCUM_ROM_U8(rule->address);

    if (state->phase != CLAIMING || state->timed) {
        return;
    }
    if (address >= FIRST_WAITING && address <= LAST_WAITING) {
        start_node_timer(state, now_us, WAIT_US);
    } else {
        state->phase = OWNING;
    }
}

/* ---- requests ---- */

static uint8_t find_answer(const locum_node_rule *rule, uint32_t group)
{
    const locum_group_answer *answers = LOCUM_ROM_FN(const locum_group_answer *, rule->answers);

    for (uint8_t i = 0; i < LOCUM_ROM_U8(rule->answer_count); i++) {
        if (LOCUM_ROM_U32(answers[i].group) == group) {
            return i;
        }
    }
    return NO_ANSWER;
}

static void refuse_group(locum_node_state *state, uint8_t code, uint8_t to, uint32_t group)
{
    state->refusal = code;
    state->refused_to = to;
    state->refused = group;
}

static uint8_t take_request(const locum_node_rule *rule, locum_node_state *state, bool all,
                            uint8_t from, uint32_t group, uint32_t now_us)
{
    const locum_group_answer *answers = LOCUM_ROM_FN(const locum_group_answer *, rule->answers);
    const uint8_t to = all ? (uint8_t)EVERYBODY : from;
    uint8_t i;

    if (group == GROUP_CLAIM) {
        if (state->phase != LOST) {
            state->claim = true;
        } else if (all && !state->claim && !state->timed) {
            say_lost(state, now_us);
        }
        return LOCUM_NONE;
    }
    if (state->phase != OWNING || from >= NOBODY) {
        return LOCUM_NONE;
    }
    i = find_answer(rule, group);
    if (i == NO_ANSWER) {
        if (!all) {
            refuse_group(state, NOT_KNOWN, from, group);
        }
        return LOCUM_NONE;
    }
    if (LOCUM_ROM_FN(const uint8_t *, answers[i].bytes) == 0) {
        return LOCUM_ROM_U8(answers[i].event);
    }
#if LOCUM_NODE_TRANSFERS
    if (LOCUM_ROM_U16(answers[i].length) > FRAME_BYTES) {
        if (!transfer_begins(state, i, to) && !all) {
            refuse_group(state, BUSY, from, group);
        }
        return LOCUM_NONE;
    }
#endif
    state->answers |= (uint32_t)1u << i;
    state->askers[i] = to;
    return LOCUM_NONE;
}

/* ---- what is sent ---- */

static uint8_t first_wanted(const locum_node_state *state)
{
    if (state->claim) {
        return CLAIM;
    }
    if (state->refusal != 0u) {
        return REFUSAL;
    }
    if (state->answers != 0u) {
        return ANSWER;
    }
#if LOCUM_NODE_TRANSFERS
    return transfer_wants(state) ? (uint8_t)TRANSFER : (uint8_t)NOTHING;
#else
    return NOTHING;
#endif
}

static uint8_t first_answer(const locum_node_state *state)
{
    uint8_t i = 0;

    while (i < MOST_ANSWERS - 1u && (state->answers >> i & 1u) == 0u) {
        i++;
    }
    return i;
}

static uint8_t compose_group(const locum_node_rule *rule, const locum_node_state *state,
                             uint32_t *id, uint8_t *data)
{
    const uint8_t i = first_answer(state);
    const locum_group_answer *answer = &LOCUM_ROM_FN(const locum_group_answer *, rule->answers)[i];
    const uint8_t *bytes = LOCUM_ROM_FN(const uint8_t *, answer->bytes);
    const uint32_t group = LOCUM_ROM_U32(answer->group);
    const uint8_t length = (uint8_t)LOCUM_ROM_U16(answer->length);

    *id = ID_ANSWER | group << 8 | LOCUM_ROM_U8(rule->address);
    if (has_destination(group)) {
        *id |= to_destination(state->askers[i]);
    }
    for (uint8_t at = 0; at < length; at++) {
        data[at] = LOCUM_ROM_U8(bytes[at]);
    }
    return length;
}

/* ---- public ---- */

void locum_j1939_begin(const locum_node_rule *rule, locum_node_state *state)
{
    uint32_t seed = 0;

    for (uint8_t i = 4; i-- > 0u;) {
        seed =
            seed << 8 | (LOCUM_ROM_U8(rule->name[i]) ^ (uint32_t)LOCUM_ROM_U8(rule->name[i + 4u]));
    }
    state->random = seed != 0u ? seed : 1u;
    locum_j1939_reset(state);
}

void locum_j1939_reset(locum_node_state *state)
{
    forget(state);
    state->phase = OFF;
    state->leaving = false;
    state->asked = false;
}

void locum_j1939_start(locum_node_state *state)
{
    if (state->phase == OFF) {
        state->phase = CLAIMING;
        state->claim = true;
    }
}

bool locum_j1939_holds(const locum_node_state *state)
{
    return state->phase != OWNING;
}

uint8_t locum_j1939_take(const locum_node_rule *rule, locum_node_state *state, uint8_t row,
                         uint32_t id, const uint8_t *data, uint8_t length, uint32_t now_us)
{
    if (state->phase == OFF || length > FRAME_BYTES) {
        return LOCUM_NONE;
    }
    if (row == LOCUM_ROM_U8(rule->claim)) {
        take_claim(rule, state, data, now_us);
    } else if (row == LOCUM_ROM_U8(rule->request) || row == LOCUM_ROM_U8(rule->request_all)) {
        return take_request(rule, state, row == LOCUM_ROM_U8(rule->request_all), (uint8_t)id,
                            read_group(data), now_us);
#if LOCUM_NODE_TRANSFERS
    } else if (row == LOCUM_ROM_U8(rule->connection)) {
        transfer_take(rule, state, id, data, now_us);
#endif
    }
    return LOCUM_NONE;
}

void locum_j1939_refuse(const locum_node_rule *rule, locum_node_state *state, uint8_t row,
                        uint32_t id, const uint8_t *data)
{
    if (row == LOCUM_ROM_U8(rule->request)) {
        refuse_group(state, NOT_KNOWN, (uint8_t)id, read_group(data));
    }
}

bool locum_j1939_wants(const locum_node_state *state)
{
    return first_wanted(state) != NOTHING;
}

uint8_t locum_j1939_compose(const locum_node_rule *rule, const locum_node_state *state,
                            uint32_t *id, uint8_t *data)
{
    const uint8_t address = LOCUM_ROM_U8(rule->address);

    switch (first_wanted(state)) {
    case CLAIM:
        *id = ID_CLAIM | to_destination(EVERYBODY) | (state->phase == LOST ? NOBODY : address);
        for (uint8_t i = 0; i < FRAME_BYTES; i++) {
            data[i] = LOCUM_ROM_U8(rule->name[i]);
        }
        break;
    case REFUSAL:
        *id = ID_REFUSAL | to_destination(EVERYBODY) | address;
        data[0] = state->refusal;
        data[1] = 0xFFu;
        data[2] = 0xFFu;
        data[3] = 0xFFu;
        data[4] = state->refused_to;
        write_group(&data[5], state->refused);
        break;
#if LOCUM_NODE_TRANSFERS
    case TRANSFER:
        return transfer_compose(rule, state, id, data);
#endif
    default:
        return compose_group(rule, state, id, data);
    }
    return FRAME_BYTES;
}

void locum_j1939_accepted(locum_node_state *state, uint32_t id)
{
    const uint8_t kind = first_wanted(state);

    state->flying = kind;
    state->flying_id = id;
    state->leaving = true;
    state->asked = false;
    if (kind == CLAIM) {
        state->claim = false;
    } else if (kind == REFUSAL) {
        state->refusal = 0;
    } else if (kind == ANSWER) {
        state->answers &= state->answers - 1u; /* without its lowest bit */
    }
}

void locum_j1939_left(const locum_node_rule *rule, locum_node_state *state, uint32_t now_us)
{
    const uint8_t kind = state->flying;

    state->leaving = false;
    state->flying = NOTHING;
    if (kind == CLAIM) {
        note_claimed(rule, state, now_us);
    }
#if LOCUM_NODE_TRANSFERS
    if (kind == TRANSFER) {
        transfer_left(rule, state, now_us);
    }
#endif
}

void locum_j1939_tick(locum_node_state *state, uint32_t at_us)
{
    if (!state->timed || !reached(at_us, state->timer_us)) {
        return;
    }
    state->timed = false;
    if (state->phase == CLAIMING) {
        state->phase = OWNING;
    } else if (state->phase == LOST) {
        state->claim = true;
#if LOCUM_NODE_TRANSFERS
    } else {
        transfer_tick(state);
#endif
    }
}

#endif
