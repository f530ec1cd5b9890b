#include "locum_core.h"

#include "locum_guards.h"
#include "locum_outputs.h"
#include "locum_port.h"
#include "locum_time.h"

enum { ACTIVE = 1, PENDING = 2, BY_PERIOD = 4 };

/* ---- due queue ---- */

static void enqueue(locum_core *core, uint8_t row)
{
    locum_send_state *states = core->board->rule_states;
    const uint32_t due_us = states[row].due_us;
    uint8_t *link = &core->due_head;

    while (*link != LOCUM_NONE) {
        const uint32_t other_us = states[*link].due_us;

        if (other_us == due_us ? *link > row : reached(other_us, due_us)) {
            break;
        }
        link = &states[*link].next;
    }
    states[row].next = *link;
    *link = row;
}

static void unlink_row(locum_send_state *states, uint8_t *link, uint8_t row)
{
    while (*link != LOCUM_NONE && *link != row) {
        link = &states[*link].next;
    }
    if (*link == row) {
        *link = states[row].next;
    }
}

static void count_skipped(locum_core *core, uint8_t row, uint32_t releases)
{
    locum_send_state *state = &core->board->rule_states[row];
    void (*skipped)(uint32_t) = LOCUM_ROM_FN(void (*)(uint32_t), core->board->rules[row].skipped);
    const uint32_t total = (uint32_t)state->skipped + releases;

    state->skipped = (total > 0xFFFFu || total < releases) ? (uint16_t)0xFFFFu : (uint16_t)total;
    if (skipped != 0) {
        skipped(releases);
    }
}

#if LOCUM_GUARDS
void locum_drop_pending(locum_core *core, uint8_t bus)
{
    for (uint8_t row = 0; row < core->board->rule_count; row++) {
        locum_send_state *state = &core->board->rule_states[row];

        if ((state->flags & PENDING) != 0u && LOCUM_ROM_U8(core->board->rules[row].bus) == bus) {
            state->flags &= (uint8_t)~PENDING;
            core->pending--;
            count_skipped(core, row, 1);
        }
    }
}
#endif

#if LOCUM_LIVE
static void move_on(locum_core *core, uint8_t row)
{
    void (*released)(void) = LOCUM_ROM_FN(void (*)(void), core->board->rules[row].released);

    if (released != 0) {
        released();
    }
}
#endif

/* True while a guard lets nothing out on the row's bus. */
static bool is_guarded(const locum_core *core, uint8_t row)
{
#if LOCUM_GUARDS
    return locum_guards_shut(core, LOCUM_ROM_U8(core->board->rules[row].bus));
#else
    (void)core;
    (void)row;
    return false;
#endif
}

#if LOCUM_NODES
/* True while the row's frame carries the address of a node that does not own it. */
static bool is_held(const locum_core *core, uint8_t row)
{
    const locum_send_rule *rule = &core->board->rules[row];
    const uint32_t id = LOCUM_ROM_U32(rule->id);

    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        const locum_node_rule *node = &core->board->node_rules[i];

        if (locum_j1939_holds(&core->board->node_states[i]) && (id & LOCUM_ID_EXTENDED) != 0u &&
            (uint8_t)id == LOCUM_ROM_U8(node->address) &&
            LOCUM_ROM_U8(rule->bus) == LOCUM_ROM_U8(node->bus) &&
            LOCUM_ROM_U8(rule->module) == LOCUM_ROM_U8(node->module)) {
            return true;
        }
    }
    return false;
}
#endif

/* True while the row's frame must not be sent. */
static bool is_shut(const locum_core *core, uint8_t row)
{
#if LOCUM_NODES
    if (is_held(core, row)) {
        return true;
    }
#endif
    return is_guarded(core, row);
}

/* ---- events ---- */

#if LOCUM_EVENTS
/* Asks for the frame's releases from at_us on, not before its gap is over. */
static void arm(locum_core *core, uint8_t event, uint32_t at_us)
{
    const locum_event_rule *rule = &core->board->event_rules[event];
    locum_event_state *state = &core->board->event_states[event];
    const uint32_t free_us = state->last_us + LOCUM_ROM_U32(rule->gap_us);

    state->left = LOCUM_ROM_U16(rule->repeat);
    state->due_us = (state->recent && !reached(at_us, free_us)) ? free_us : at_us;
}

static void fire(locum_core *core, uint8_t kind, uint8_t module, uint8_t index, uint32_t at_us)
{
    for (uint8_t i = 0; i != LOCUM_TRIGGERS; i++) {
        const locum_trigger *trigger = &core->board->triggers[i];
        const uint8_t event = LOCUM_ROM_U8(trigger->event);
        const uint8_t row = LOCUM_ROM_U8(core->board->event_rules[event].row);

        if (LOCUM_ROM_U8(trigger->kind) == kind && LOCUM_ROM_U8(trigger->index) == index &&
            (kind != LOCUM_ON_MODE || LOCUM_ROM_U8(trigger->module) == module) &&
            (core->board->rule_states[row].flags & ACTIVE) != 0u) {
            arm(core, event, at_us + LOCUM_ROM_U32(trigger->after_us));
        }
    }
}

static void reset_events(locum_core *core, uint8_t row)
{
    for (uint8_t event = 0; event < LOCUM_EVENTS; event++) {
        const locum_event_rule *rule = &core->board->event_rules[event];
        bool (*changed)(void) = LOCUM_ROM_FN(bool (*)(void), rule->changed);

        if (LOCUM_ROM_U8(rule->row) == row) {
            core->board->event_states[event].left = 0;
            core->board->event_states[event].recent = false;
            if (changed != 0) {
                (void)changed(); /* what is there now counts as seen */
            }
        }
    }
}

/* A frame was released; its nominal time was at_us. */
static void note_release(locum_core *core, uint8_t row, uint32_t at_us)
{
    for (uint8_t event = 0; event < LOCUM_EVENTS; event++) {
        locum_event_state *state = &core->board->event_states[event];

        if (LOCUM_ROM_U8(core->board->event_rules[event].row) == row) {
            if (!state->recent || reached(at_us, state->last_us)) {
                state->last_us = at_us;
            }
            state->recent = true;
            at_us = state->last_us;
        }
    }
    fire(core, LOCUM_ON_FRAME, 0, row, at_us);
}

static void look_for_changes(locum_core *core, uint32_t now_us)
{
    for (uint8_t event = 0; event < LOCUM_EVENTS; event++) {
        const locum_event_rule *rule = &core->board->event_rules[event];
        bool (*changed)(void) = LOCUM_ROM_FN(bool (*)(void), rule->changed);

        if (changed != 0 &&
            (core->board->rule_states[LOCUM_ROM_U8(rule->row)].flags & ACTIVE) != 0u && changed()) {
            arm(core, event, now_us);
        }
    }
}

/* Releases the first frame that an event made due; false when there is none. */
static bool release_event(locum_core *core, uint32_t now_us)
{
    for (uint8_t event = 0; event < LOCUM_EVENTS; event++) {
        const locum_event_rule *rule = &core->board->event_rules[event];
        locum_event_state *state = &core->board->event_states[event];
        const uint8_t row = LOCUM_ROM_U8(rule->row);
        uint8_t *flags = &core->board->rule_states[row].flags;
        uint32_t skipped = 0;
        uint32_t at_us = state->due_us;

        if (state->left == 0u || !reached(now_us, at_us)) {
            continue;
        }
        state->left--;
        state->due_us += LOCUM_ROM_U32(rule->spacing_us);
        while (state->left != 0u && reached(now_us, state->due_us)) {
            at_us = state->due_us;
            state->left--;
            state->due_us += LOCUM_ROM_U32(rule->spacing_us);
            skipped++;
        }
        if (is_shut(core, row)) {
            skipped = 0;
        } else if ((*flags & PENDING) == 0u) {
            *flags |= PENDING;
            core->pending++;
        } else if ((*flags & BY_PERIOD) == 0u) {
            skipped++;
        }
#if LOCUM_LIVE
        move_on(core, row);
#endif
        if (skipped != 0u) {
            count_skipped(core, row, skipped);
        }
        note_release(core, row, at_us);
        return true;
    }
    return false;
}

static void release_events(locum_core *core, uint32_t now_us)
{
    while (release_event(core, now_us)) {
    }
    for (uint8_t event = 0; event < LOCUM_EVENTS; event++) {
        const locum_event_rule *rule = &core->board->event_rules[event];
        locum_event_state *state = &core->board->event_states[event];

        core->board->rule_states[LOCUM_ROM_U8(rule->row)].flags &= (uint8_t)~BY_PERIOD;
        /* Forgotten before the clock can come round to it again. */
        if (state->recent && reached(now_us, state->last_us + LOCUM_ROM_U32(rule->gap_us))) {
            state->recent = false;
        }
    }
}

static bool event_due(const locum_core *core, bool has_due, uint32_t *due_us)
{
    for (uint8_t event = 0; event < LOCUM_EVENTS; event++) {
        const locum_event_state *state = &core->board->event_states[event];
        const uint32_t free_us =
            state->last_us + LOCUM_ROM_U32(core->board->event_rules[event].gap_us);

        if (state->left != 0u && (!has_due || reached(*due_us, state->due_us))) {
            *due_us = state->due_us;
            has_due = true;
        }
        if (state->recent && (!has_due || reached(*due_us, free_us))) {
            *due_us = free_us;
            has_due = true;
        }
    }
    return has_due;
}
#endif

/* ---- channels ---- */

#if LOCUM_CHANNELS || LOCUM_NODES
/* What a channel or a node wanted to send and no controller has accepted is not sent any more. */
static void withdraw(locum_core *core, uint8_t row, uint8_t event)
{
    core->board->event_states[event].left = 0;
    if ((core->board->rule_states[row].flags & PENDING) != 0u) {
        core->board->rule_states[row].flags = ACTIVE;
        core->pending--;
        count_skipped(core, row, 1);
    }
}
#endif

#if LOCUM_CHANNELS
static void grant(locum_core *core, const locum_channel_rule *rule, locum_channel_wish wish,
                  uint32_t release_us)
{
    if (wish == LOCUM_CHANNEL_RESTS) {
        return;
    }
    withdraw(core, LOCUM_ROM_U8(rule->row), LOCUM_ROM_U8(rule->event));
    if (wish == LOCUM_CHANNEL_ASKS) {
        arm(core, LOCUM_ROM_U8(rule->event), release_us);
    }
}

/* A frame came in for a receive row. */
static void take_for_channels(locum_core *core, uint8_t row, const locum_frame *frame,
                              uint32_t now_us)
{
    for (uint8_t i = 0; i < LOCUM_CHANNELS; i++) {
        const locum_channel_rule *rule = &core->board->channel_rules[i];
        const bool functional = LOCUM_ROM_U8(rule->functional) == row;
        uint32_t release_us = now_us;

        if ((functional || LOCUM_ROM_U8(rule->request) == row) &&
            (core->board->rule_states[LOCUM_ROM_U8(rule->row)].flags & ACTIVE) != 0u) {
            const locum_channel_wish wish =
                locum_isotp_take(rule, &core->board->channel_states[i], frame->data, frame->length,
                                 functional, now_us, &release_us);

            grant(core, rule, wish, release_us);
        }
    }
}

/* True if an answer frame has left its controller. */
static bool notice_leaving(locum_core *core, uint32_t now_us)
{
    bool any = false;

    for (uint8_t i = 0; i < LOCUM_CHANNELS; i++) {
        const locum_channel_rule *rule = &core->board->channel_rules[i];
        locum_channel_state *state = &core->board->channel_states[i];
        const locum_send_rule *send = &core->board->rules[LOCUM_ROM_U8(rule->row)];
        uint32_t release_us = now_us;

        if (state->leaving && !locum_port_waits(LOCUM_ROM_U8(send->bus), LOCUM_ROM_U32(send->id))) {
            const locum_channel_wish wish = locum_isotp_left(state, now_us, &release_us);

            grant(core, rule, wish, release_us);
            any = true;
        }
    }
    return any;
}

/* What must not be sent has no continuation. */
#if LOCUM_GUARDS || LOCUM_NODES
static void close_channels(locum_core *core)
{
    for (uint8_t i = 0; i < LOCUM_CHANNELS; i++) {
        const locum_channel_rule *rule = &core->board->channel_rules[i];

        if (is_shut(core, LOCUM_ROM_U8(rule->row))) {
            core->board->event_states[LOCUM_ROM_U8(rule->event)].left = 0;
            locum_isotp_reset(&core->board->channel_states[i]);
        }
    }
}
#endif

static uint8_t channel_of(const locum_core *core, uint8_t row)
{
    uint8_t i = 0;

    while (i < LOCUM_CHANNELS && LOCUM_ROM_U8(core->board->channel_rules[i].row) != row) {
        i++;
    }
    return i;
}

static void reset_channel(locum_core *core, uint8_t row)
{
    const uint8_t channel = channel_of(core, row);

    if (channel < LOCUM_CHANNELS) {
        locum_isotp_reset(&core->board->channel_states[channel]);
    }
}
#endif

/* ---- nodes ---- */

#if LOCUM_NODES
static uint8_t node_of(const locum_core *core, uint8_t row)
{
    uint8_t i = 0;

    while (i < LOCUM_NODES && LOCUM_ROM_U8(core->board->node_rules[i].row) != row) {
        i++;
    }
    return i;
}

/* Releases the node's row when it wants to send, one frame at a time. */
static void serve_node(locum_core *core, uint8_t i, uint32_t at_us)
{
    const locum_node_rule *rule = &core->board->node_rules[i];
    locum_node_state *state = &core->board->node_states[i];
    const bool wants = locum_j1939_wants(state);

    if (wants && !state->asked && !state->leaving) {
        state->asked = true;
        arm(core, LOCUM_ROM_U8(rule->event), at_us);
    } else if (!wants && state->asked) {
        state->asked = false;
        withdraw(core, LOCUM_ROM_U8(rule->row), LOCUM_ROM_U8(rule->event));
    }
}

/* A frame came in for a receive row. */
static void take_for_nodes(locum_core *core, uint8_t row, const locum_frame *frame, uint32_t now_us)
{
    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        const locum_node_rule *rule = &core->board->node_rules[i];
        locum_node_state *state = &core->board->node_states[i];
        const uint8_t event =
            locum_j1939_take(rule, state, row, frame->id, frame->data, frame->length, now_us);

        if (event != LOCUM_NONE) {
            const uint8_t asked = LOCUM_ROM_U8(core->board->event_rules[event].row);

            if ((core->board->rule_states[asked].flags & ACTIVE) != 0u) {
                arm(core, event, now_us);
            } else {
                locum_j1939_refuse(rule, state, row, frame->id, frame->data);
            }
        }
        serve_node(core, i, now_us);
    }
}

/* True if a frame of a node has left its controller. */
static bool notice_nodes_leaving(locum_core *core, uint32_t now_us)
{
    bool any = false;

    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        const locum_node_rule *rule = &core->board->node_rules[i];
        locum_node_state *state = &core->board->node_states[i];

        if (state->leaving && !locum_port_waits(LOCUM_ROM_U8(rule->bus), state->flying_id)) {
            locum_j1939_left(rule, state, now_us);
            serve_node(core, i, now_us);
            any = true;
        }
    }
    return any;
}

static void tick_nodes(locum_core *core, uint32_t at_us)
{
    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        locum_j1939_tick(&core->board->node_states[i], at_us);
        serve_node(core, i, at_us);
    }
}

/* Nodes that a guard shuts forget everything, others start; what they hold is not sent. */
static void start_nodes(locum_core *core, uint32_t now_us)
{
    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        const locum_node_rule *rule = &core->board->node_rules[i];
        const uint8_t row = LOCUM_ROM_U8(rule->row);

        if (is_guarded(core, row)) {
            core->board->event_states[LOCUM_ROM_U8(rule->event)].left = 0;
            locum_j1939_reset(&core->board->node_states[i]);
        } else if ((core->board->rule_states[row].flags & ACTIVE) != 0u) {
            locum_j1939_start(&core->board->node_states[i]);
            serve_node(core, i, now_us);
        }
    }
    for (uint8_t row = 0; core->pending != 0u && row < core->board->rule_count; row++) {
        locum_send_state *state = &core->board->rule_states[row];

        if ((state->flags & PENDING) != 0u && is_held(core, row)) {
            state->flags &= (uint8_t)~PENDING;
            core->pending--;
            count_skipped(core, row, 1);
        }
    }
}

static void reset_node(locum_core *core, uint8_t row)
{
    const uint8_t node = node_of(core, row);

    if (node < LOCUM_NODES) {
        locum_j1939_reset(&core->board->node_states[node]);
    }
}
#endif

/* ---- releases ---- */

/* Joins the due queue only in release: when many frames start, those due at once go first. */
static void start_sending(locum_core *core, const locum_send_rule *rule, locum_send_state *state,
                          uint8_t row, uint32_t at_us)
{
    void (*started)(void) = LOCUM_ROM_FN(void (*)(void), rule->started);

    state->flags = ACTIVE;
#if LOCUM_PERIODS
    state->distance_us = 0;
#endif
#if LOCUM_BURSTS
    state->burst_left = LOCUM_ROM_U8(rule->burst_count);
#endif
    if (LOCUM_ROM_U32(rule->period_us) != 0u) {
        state->due_us = at_us + LOCUM_ROM_U32(rule->offset_us);
        state->next = core->started;
        core->started = row;
    }
    if (started != 0) {
        started();
    }
#if LOCUM_EVENTS
    reset_events(core, row);
    fire(core, LOCUM_ON_START, 0, row, at_us);
#endif
}

static void stop_sending(locum_core *core, uint8_t row)
{
    locum_send_state *state = &core->board->rule_states[row];
    const bool was_pending = (state->flags & PENDING) != 0u;

    unlink_row(core->board->rule_states, &core->due_head, row);
    unlink_row(core->board->rule_states, &core->started, row);
    state->flags = 0;
#if LOCUM_CHANNELS
    reset_channel(core, row);
#endif
#if LOCUM_NODES
    reset_node(core, row);
#endif
#if LOCUM_EVENTS
    reset_events(core, row);
#endif
    if (was_pending) {
        core->pending--;
        count_skipped(core, row, 1);
    }
}

/* The distance from the release that is due to the next one. */
static uint32_t next_distance_us(locum_core *core, uint8_t row)
{
    const locum_send_rule *rule = &core->board->rules[row];

#if LOCUM_BURSTS
    if (core->board->rule_states[row].burst_left != 0u &&
        --core->board->rule_states[row].burst_left != 0u) {
        return LOCUM_ROM_U32(rule->burst_us);
    }
#endif
#if LOCUM_PERIODS
    {
        const uint32_t *periods_us = LOCUM_ROM_FN(const uint32_t *, rule->periods_us);

        if (periods_us != 0) {
            return LOCUM_ROM_U32(
                periods_us[core->board->module_states[LOCUM_ROM_U8(rule->module)].mode]);
        }
    }
#endif
    return LOCUM_ROM_U32(rule->period_us);
}

#if LOCUM_PERIODS
/* The module went on to another mode of the frame's set: the new period counts from the last
 * release. */
static void change_period(locum_core *core, uint8_t row, uint32_t at_us)
{
    locum_send_state *state = &core->board->rule_states[row];
    const uint32_t last_us = state->due_us - state->distance_us;

    if (LOCUM_ROM_FN(const uint32_t *, core->board->rules[row].periods_us) == 0 ||
        state->distance_us == 0u) {
        return;
    }
#if LOCUM_BURSTS
    if (state->burst_left != 0u) {
        return;
    }
#endif
    unlink_row(core->board->rule_states, &core->due_head, row);
    state->due_us = last_us + next_distance_us(core, row);
    if (!reached(state->due_us, at_us)) {
        state->due_us = at_us;
    }
    state->distance_us = state->due_us - last_us;
    enqueue(core, row);
}
#endif

/* Puts rows that started in this step and are due already into the due queue; returns the others,
 * chained. */
static uint8_t queue_started(locum_core *core, uint32_t now_us)
{
    locum_send_state *states = core->board->rule_states;
    uint8_t others = LOCUM_NONE;

    while (core->started != LOCUM_NONE) {
        const uint8_t row = core->started;

        core->started = states[row].next;
        if (reached(now_us, states[row].due_us)) {
            enqueue(core, row);
        } else {
            states[row].next = others;
            others = row;
        }
    }
    return others;
}

/* Returns rows, chained, for requeue: that can wait until the released ones have been offered. */
static uint8_t release(locum_core *core, uint32_t now_us)
{
    locum_send_state *states = core->board->rule_states;
    uint8_t later = queue_started(core, now_us);

    while (core->due_head != LOCUM_NONE && reached(now_us, states[core->due_head].due_us)) {
        const uint8_t row = core->due_head;
        uint32_t distance_us = next_distance_us(core, row);
        uint32_t skipped = 0;
        uint32_t late_us;

        core->due_head = states[row].next;
        states[row].due_us += distance_us;
#if LOCUM_BURSTS
        while (reached(now_us, states[row].due_us) && states[row].burst_left != 0u) {
            distance_us = next_distance_us(core, row);
            states[row].due_us += distance_us;
            skipped++;
        }
#endif
        late_us = now_us - states[row].due_us;
        if (late_us < 0x80000000u) {
            const uint32_t more = late_us / distance_us + 1u;

            skipped += more;
            states[row].due_us += more * distance_us;
        }
#if LOCUM_PERIODS
        states[row].distance_us = distance_us;
#endif
        states[row].next = later;
        later = row;
        if (is_shut(core, row)) {
            skipped = 0;
        } else if ((states[row].flags & PENDING) != 0u) {
            skipped++;
        } else {
            states[row].flags = ACTIVE | PENDING;
            core->pending++;
        }
#if LOCUM_LIVE
        move_on(core, row);
#endif
        if (skipped != 0u) {
            count_skipped(core, row, skipped);
        }
#if LOCUM_EVENTS
        states[row].flags |= BY_PERIOD;
        note_release(core, row, states[row].due_us - distance_us);
#endif
    }
    return later;
}

static void requeue(locum_core *core, uint8_t row)
{
    while (row != LOCUM_NONE) {
        const uint8_t next = core->board->rule_states[row].next;

        enqueue(core, row);
        row = next;
    }
}

static void compose(locum_core *core, const locum_send_rule *rule, locum_frame *frame)
{
    void (*write)(uint8_t *) = LOCUM_ROM_FN(void (*)(uint8_t *), rule->compose);

#if LOCUM_NODES
    if (frame->id == LOCUM_ID_NODE) {
        const uint8_t node = node_of(core, (uint8_t)(rule - core->board->rules));

        frame->length =
            locum_j1939_compose(&core->board->node_rules[node], &core->board->node_states[node],
                                &frame->id, frame->data);
        return;
    }
#endif
#if LOCUM_CHANNELS
    if (write == 0) {
        const uint8_t channel = channel_of(core, (uint8_t)(rule - core->board->rules));

        frame->length = locum_isotp_compose(&core->board->channel_rules[channel],
                                            &core->board->channel_states[channel], frame->data);
        return;
    }
#else
    (void)core;
#endif
    write(frame->data);
}

#if LOCUM_WATCHES_LEAVING
static void note_acceptance(locum_core *core, const locum_send_rule *rule, uint32_t id)
{
    const uint8_t row = (uint8_t)(rule - core->board->rules);
#if LOCUM_CHANNELS
    const uint8_t channel = channel_of(core, row);

    if (channel < LOCUM_CHANNELS) {
        locum_isotp_accepted(&core->board->channel_rules[channel],
                             &core->board->channel_states[channel]);
    }
#endif
#if LOCUM_NODES
    const uint8_t node = node_of(core, row);

    if (node < LOCUM_NODES) {
        locum_j1939_accepted(&core->board->node_states[node], id);
    }
#else
    (void)id;
#endif
}
#endif

static void offer(locum_core *core)
{
    const locum_board *board = core->board;
    uint8_t closed_bus = LOCUM_NONE;
    const locum_send_rule *rule = board->rules;
    locum_send_state *state = board->rule_states;
    const locum_send_state *const end = state + board->rule_count;

    /* Pointers, not indexes: on small cores the multiplications would cost more than the loop. */
    for (uint8_t left = core->pending; left != 0u && state != end; rule++, state++) {
        locum_frame frame;

        if ((state->flags & PENDING) == 0u) {
            continue;
        }
        left--;
        frame.bus = LOCUM_ROM_U8(rule->bus);
        if (frame.bus == closed_bus) {
            continue;
        }
        frame.id = LOCUM_ROM_U32(rule->id);
        frame.length = LOCUM_ROM_U8(rule->length);
        compose(core, rule, &frame);
        if (locum_port_send(&frame)) {
            void (*sent)(void) = LOCUM_ROM_FN(void (*)(void), rule->sent);

            state->flags = ACTIVE;
            core->pending--;
            if (sent != 0) {
                sent();
            }
#if LOCUM_WATCHES_LEAVING
            note_acceptance(core, rule, frame.id);
#endif
        } else {
            closed_bus = frame.bus;
        }
    }
}

/* ---- modes ---- */

static void enter_mode(locum_core *core, uint8_t module, uint8_t mode, uint32_t at_us)
{
    const locum_board *board = core->board;
    const locum_stay *stay = &LOCUM_ROM_FN(const locum_stay *, board->modules[module].stays)[mode];
    const locum_mode_set mode_bit = (locum_mode_set)1 << mode;
    locum_module_state *state = &board->module_states[module];
    const locum_send_rule *rule = board->rules;
    locum_send_state *row_state = board->rule_states;

    state->mode = mode;
    state->timed = LOCUM_ROM_U8(stay->then) != LOCUM_NONE;
#if LOCUM_LAPS
    state->laps = LOCUM_ROM_U16(stay->laps);
#endif
    state->ends_us = at_us + LOCUM_ROM_U32(stay->for_us);

    for (uint8_t row = 0; row < board->rule_count; row++, rule++, row_state++) {
        const bool was = (row_state->flags & ACTIVE) != 0u;
        bool is;

        if (LOCUM_ROM_U8(rule->module) != module) {
            continue;
        }
        is = (LOCUM_ROM_U32(rule->modes) & mode_bit) != 0u;
        if (is && !was) {
            start_sending(core, rule, row_state, row, at_us);
        } else if (was && !is) {
            stop_sending(core, row);
#if LOCUM_PERIODS
        } else if (is) {
            change_period(core, row, at_us);
#endif
        }
    }
#if LOCUM_EVENTS
    fire(core, LOCUM_ON_MODE, module, mode, at_us);
#endif
}

static bool stay_ended(locum_module_state *state, uint32_t at_us)
{
#if LOCUM_LAPS
    while (state->timed && state->laps != 0u && reached(at_us, state->ends_us)) {
        state->laps--;
        state->ends_us += LAP_US;
    }
#endif
    return state->timed && reached(at_us, state->ends_us);
}

static void change_mode(locum_core *core, uint8_t module, uint32_t at_us)
{
    const locum_module *table = &core->board->modules[module];
    locum_module_state *state = &core->board->module_states[module];
    const locum_stay *stays = LOCUM_ROM_FN(const locum_stay *, table->stays);
    uint8_t (*leave)(uint8_t, locum_input_set) =
        LOCUM_ROM_FN(uint8_t(*)(uint8_t, locum_input_set), table->leave);

    for (uint8_t left = LOCUM_ROM_U8(table->mode_count); left != 0u; left--) {
        uint8_t next = leave(state->mode, core->active);

        if (next == state->mode && stay_ended(state, at_us)) {
            next = LOCUM_ROM_U8(stays[state->mode].then);
        }
        if (next == state->mode) {
            return;
        }
        enter_mode(core, module, next, at_us);
    }
}

/* ---- inputs ---- */

static void see_levels(locum_core *core, uint32_t now_us, locum_input_set level)
{
    for (uint8_t input = 0; input < core->board->input_count; input++) {
        const locum_input_set bit = (locum_input_set)(1u << input);
        locum_input_state *state = &core->board->input_states[input];

        if (((level ^ core->level) & bit) == 0u) {
            continue;
        }
        state->settling = ((level ^ core->active) & bit) != 0u;
        state->settles_us = now_us + LOCUM_ROM_U32(core->board->debounce_us[input]);
    }
    core->level = level;
}

static void settle_inputs(locum_core *core, uint32_t at_us)
{
    for (uint8_t input = 0; input < core->board->input_count; input++) {
        const locum_input_set bit = (locum_input_set)(1u << input);
        locum_input_state *state = &core->board->input_states[input];

        if (state->settling && reached(at_us, state->settles_us)) {
            state->settling = false;
            core->active ^= bit;
#if LOCUM_EVENTS
            fire(core, (core->active & bit) != 0u ? LOCUM_ON_ACTIVE : LOCUM_ON_INACTIVE, 0, input,
                 at_us);
#endif
        }
    }
}

/* ---- received frames ---- */

#if LOCUM_LISTENS
static void take(locum_core *core, const locum_frame *frame, uint32_t now_us)
{
#if LOCUM_GUARDS
    locum_guards_hear(core, frame);
#endif
#if LOCUM_RECEIVES
    for (uint8_t row = 0; row < LOCUM_RECEIVES; row++) {
        const locum_receive_rule *rule = &core->board->receive_rules[row];
        locum_receive_state *state = &core->board->receive_states[row];

        if (((frame->id ^ LOCUM_ROM_U32(rule->id)) & LOCUM_ROM_U32(rule->mask)) != 0u ||
            frame->bus != LOCUM_ROM_U8(rule->bus) || frame->length < LOCUM_ROM_U8(rule->length)) {
            continue;
        }
        for (uint8_t i = 0; i < frame->length; i++) {
            state->data[i] = frame->data[i];
        }
        state->there = true;
        state->lost_us = now_us + LOCUM_ROM_U32(rule->timeout_us);
#if LOCUM_EVENTS
        fire(core, LOCUM_ON_RECEIVED, 0, row, now_us);
#endif
#if LOCUM_CHANNELS
        take_for_channels(core, row, frame, now_us);
#endif
#if LOCUM_NODES
        take_for_nodes(core, row, frame, now_us);
#endif
    }
#else
    (void)now_us;
#endif
}

/* True if a frame was there to take. */
static bool take_all(locum_core *core, uint32_t now_us)
{
    locum_frame frame;
    bool any = false;

    while (locum_port_receive(&frame)) {
        take(core, &frame, now_us);
        any = true;
    }
    return any;
}
#endif

#if LOCUM_RECEIVES
static bool can_be_lost(const locum_core *core, uint8_t row)
{
    return core->board->receive_states[row].there &&
           LOCUM_ROM_U32(core->board->receive_rules[row].timeout_us) != 0u;
}

static void lose(locum_core *core, uint32_t at_us)
{
    for (uint8_t row = 0; row < LOCUM_RECEIVES; row++) {
        locum_receive_state *state = &core->board->receive_states[row];

        if (can_be_lost(core, row) && reached(at_us, state->lost_us)) {
            state->there = false;
        }
    }
}
#endif

/* ---- instants at which something other than a release is due ---- */

static void consider(locum_core *core, uint32_t at_us)
{
    if (!core->change_armed || reached(core->change_us, at_us)) {
        core->change_us = at_us;
    }
    core->change_armed = true;
}

static void arm_change(locum_core *core)
{
    const locum_board *board = core->board;

    core->change_armed = false;
    for (uint8_t input = 0; input < board->input_count; input++) {
        if (board->input_states[input].settling) {
            consider(core, board->input_states[input].settles_us);
        }
    }
#if LOCUM_RECEIVES
    for (uint8_t row = 0; row < LOCUM_RECEIVES; row++) {
        if (can_be_lost(core, row)) {
            consider(core, board->receive_states[row].lost_us);
        }
    }
#endif
#if LOCUM_CHANNELS
    for (uint8_t i = 0; i < LOCUM_CHANNELS; i++) {
        if (board->channel_states[i].timed) {
            consider(core, board->channel_states[i].timer_us);
        }
        if (board->channel_states[i].session_timed) {
            consider(core, board->channel_states[i].session_us);
        }
    }
#endif
#if LOCUM_NODES
    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        if (board->node_states[i].timed) {
            consider(core, board->node_states[i].timer_us);
        }
    }
#endif
    for (uint8_t module = 0; module < board->module_count; module++) {
        if (board->module_states[module].timed) {
            consider(core, board->module_states[module].ends_us);
        }
    }
}

#if LOCUM_LAPS
/* The end of a lap is no instant of its own: nothing but the count changes. */
static void count_laps(locum_core *core, uint32_t now_us)
{
    for (uint8_t module = 0; module < core->board->module_count; module++) {
        (void)stay_ended(&core->board->module_states[module], now_us);
    }
    arm_change(core);
}
#endif

static void settle(locum_core *core, uint32_t at_us)
{
    settle_inputs(core, at_us);
#if LOCUM_RECEIVES
    lose(core, at_us);
#endif
#if LOCUM_CHANNELS
    for (uint8_t i = 0; i < LOCUM_CHANNELS; i++) {
        grant(core, &core->board->channel_rules[i],
              locum_isotp_tick(&core->board->channel_states[i], at_us), at_us);
    }
#endif
#if LOCUM_NODES
    tick_nodes(core, at_us);
#endif
    for (uint8_t module = 0; module < core->board->module_count; module++) {
        change_mode(core, module, at_us);
    }
#if LOCUM_OUTPUTS
    locum_outputs_want(core, at_us);
#endif
    arm_change(core);
}

/* ---- public ---- */

void locum_start(locum_core *core, const locum_board *board, uint32_t now_us)
{
    core->board = board;
    core->level = 0;
    core->active = 0;
    core->due_head = LOCUM_NONE;
    core->started = LOCUM_NONE;
    core->pending = 0;
    core->settled_once = false;
    for (uint8_t row = 0; row < board->rule_count; row++) {
        board->rule_states[row].flags = 0;
        board->rule_states[row].skipped = 0;
    }
    for (uint8_t input = 0; input < board->input_count; input++) {
        board->input_states[input].settling = false;
    }
#if LOCUM_EVENTS
    for (uint8_t event = 0; event < LOCUM_EVENTS; event++) {
        board->event_states[event].left = 0;
        board->event_states[event].recent = false;
    }
#endif
#if LOCUM_RECEIVES
    for (uint8_t row = 0; row < LOCUM_RECEIVES; row++) {
        board->receive_states[row].there = false;
    }
#endif
#if LOCUM_GUARDS
    locum_guards_start(core, now_us);
#endif
#if LOCUM_OUTPUTS
    locum_outputs_start(core);
#endif
#if LOCUM_CHANNELS
    for (uint8_t i = 0; i < LOCUM_CHANNELS; i++) {
        locum_isotp_reset(&board->channel_states[i]);
    }
#endif
#if LOCUM_NODES
    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        locum_j1939_begin(&board->node_rules[i], &board->node_states[i]);
    }
#endif
    for (uint8_t module = 0; module < board->module_count; module++) {
#if LOCUM_GUARDS
        enter_mode(core, module, locum_guards_first_mode(core, module), now_us);
#else
        enter_mode(core, module, 0, now_us);
#endif
    }
#if LOCUM_OUTPUTS
    locum_outputs_want(core, now_us);
#endif
    arm_change(core);
}

void locum_step(locum_core *core, uint32_t now_us, locum_input_set levels)
{
    const locum_input_set all = (locum_input_set)((1ul << core->board->input_count) - 1u);
    const locum_input_set level = (levels ^ core->board->active_low) & all;
    bool changed = !core->settled_once;
    uint8_t later;

#if LOCUM_LAPS
    if (core->change_armed && reached(now_us, core->change_us)) {
        count_laps(core, now_us);
    }
#endif
    while (core->change_armed && reached(now_us, core->change_us) && core->change_us != now_us) {
        settle(core, core->change_us);
    }
#if LOCUM_CHANNELS
    changed = notice_leaving(core, now_us) || changed;
#endif
#if LOCUM_NODES
    changed = notice_nodes_leaving(core, now_us) || changed;
#endif
#if LOCUM_LISTENS
    changed = take_all(core, now_us) || changed;
#endif
    if (level != core->level) {
        see_levels(core, now_us, level);
        changed = true;
    }
    if (changed || (core->change_armed && core->change_us == now_us)) {
        settle(core, now_us);
    }
    core->settled_once = true;
#if LOCUM_GUARDS
    locum_guards_decide(core, now_us);
#endif
#if LOCUM_OUTPUTS
    locum_outputs_turn(core, now_us);
#endif
#if LOCUM_NODES
    start_nodes(core, now_us);
#endif
#if LOCUM_CHANNELS && (LOCUM_GUARDS || LOCUM_NODES)
    close_channels(core);
#endif
#if LOCUM_EVENTS
    look_for_changes(core, now_us);
#endif
    later = release(core, now_us);
#if LOCUM_EVENTS
    release_events(core, now_us);
#endif
    if (core->pending != 0u) {
        offer(core);
    }
    requeue(core, later);
}

bool locum_next_due(const locum_core *core, uint32_t *due_us)
{
    bool has_due = core->due_head != LOCUM_NONE;

    if (has_due) {
        *due_us = core->board->rule_states[core->due_head].due_us;
    }
    if (core->change_armed && (!has_due || reached(*due_us, core->change_us))) {
        *due_us = core->change_us;
        has_due = true;
    }
#if LOCUM_EVENTS
    has_due = event_due(core, has_due, due_us);
#endif
#if LOCUM_GUARDS
    has_due = locum_guards_due(core, has_due, due_us);
#endif
#if LOCUM_OUTPUTS
    has_due = locum_outputs_due(core, has_due, due_us);
#endif
    return has_due;
}

bool locum_waits_for_room(const locum_core *core)
{
#if LOCUM_CHANNELS
    for (uint8_t i = 0; i < LOCUM_CHANNELS; i++) {
        if (core->board->channel_states[i].leaving) {
            return true;
        }
    }
#endif
#if LOCUM_NODES
    for (uint8_t i = 0; i < LOCUM_NODES; i++) {
        if (core->board->node_states[i].leaving) {
            return true;
        }
    }
#endif
    return core->pending != 0u;
}

uint8_t locum_mode(const locum_core *core, uint8_t module)
{
    return core->board->module_states[module].mode;
}

uint32_t locum_count_on(uint32_t value, uint32_t from, uint32_t to, uint32_t step, uint32_t n)
{
    const bool down = to < from;
    const uint32_t last = (down ? from - to : to - from) / step; /* index of the last value */
    uint32_t index = (down ? from - value : value - from) / step;

    if (last == 0xFFFFFFFFu) {
        index += n;
    } else {
        const uint32_t to_wrap = last - index + 1u; /* steps until the first value comes again */

        n %= last + 1u;
        index = (n >= to_wrap) ? n - to_wrap : index + n;
    }
    return down ? from - index * step : from + index * step;
}
