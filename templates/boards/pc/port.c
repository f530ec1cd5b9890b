/*
 * The board on a PC: reads a stimulus script from standard input, runs the core on a virtual clock
 * against modelled buses, and prints what happened (see script.h).
 *
 *   frame BUS ID DATA ACCEPTED START END   times in microseconds, "-" if it never started
 *   mode T MODULE MODE                     a module is in another mode after the step at T
 *   skipped ROW COUNT                      releases not sent, per row of the frame table
 */
#include "locum_port.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "board_config.h"
#include "bus_model.h"
#include "locum_tables.h"
#include "script.h"

#define TICKS_PER_SECOND 1000000u
#define TRAFFIC_TAG 0x10000u
#define MAX_MODULES 255u

static script stimulus;
static locum_core core;
static bus_model buses[BOARD_BUSES];
/* Identifiers in the mailboxes of each controller, in order of acceptance. */
static uint32_t mailbox_ids[BOARD_BUSES][BOARD_MAILBOXES];
static unsigned mailbox_count[BOARD_BUSES];
static uint64_t now;
static uint32_t next_tag;
static locum_input_set levels;

void locum_port_init(void)
{
    static const uint32_t rates[BOARD_BUSES] = BOARD_RATES;
    static const uint32_t data_rates[BOARD_BUSES] = BOARD_DATA_RATES;

    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        bus_model_init(&buses[bus], rates[bus], TICKS_PER_SECOND);
        buses[bus].data_rate = data_rates[bus];
    }
}

uint32_t locum_port_now_us(void)
{
    return (uint32_t)now + stimulus.clock;
}

locum_input_set locum_port_inputs(void)
{
    return levels;
}

bool locum_port_send(const locum_frame *frame)
{
    uint32_t *ids = mailbox_ids[frame->bus];
    unsigned *count = &mailbox_count[frame->bus];

    for (unsigned i = 0; i < *count; i++) {
        if (ids[i] == frame->id) {
            return false;
        }
    }
    if (*count == BOARD_MAILBOXES || !bus_model_put(&buses[frame->bus], frame, next_tag, now)) {
        return false;
    }
    next_tag = (next_tag + 1u) % TRAFFIC_TAG;
    ids[(*count)++] = frame->id;
    return true;
}

#if LOCUM_CHANNELS
bool locum_port_waits(uint8_t bus, uint32_t id)
{
    for (unsigned i = 0; i < mailbox_count[bus]; i++) {
        if (mailbox_ids[bus][i] == id) {
            return true;
        }
    }
    return false;
}
#endif

#if LOCUM_RECEIVES
#define INBOX 8192u

static locum_frame inbox[INBOX]; /* heard since the last step; a stalled board hears on */
static size_t inbox_first;
static size_t inbox_count;

static void hear(const locum_frame *frame)
{
    if (inbox_count == INBOX) {
        fprintf(stderr, "the inbox is full\n");
        exit(3);
    }
    inbox[(inbox_first + inbox_count++) % INBOX] = *frame;
}

bool locum_port_receive(locum_frame *frame)
{
    if (inbox_count == 0u) {
        return false;
    }
    *frame = inbox[inbox_first];
    inbox_first = (inbox_first + 1u) % INBOX;
    inbox_count--;
    return true;
}
#endif

void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room)
{
    /* Time moves in main, event by event. */
    (void)has_due;
    (void)due_us;
    (void)wants_room;
}

static void print_report(const bus_report *report)
{
    char accepted[24];
    char start[24];
    char end[24];

    snprintf(accepted, sizeof accepted, "%" PRIu64, report->entry.offered);
    snprintf(start, sizeof start, "%" PRIu64, report->start);
    snprintf(end, sizeof end, "%" PRIu64, report->end);
    script_print_frame(&report->entry.frame, accepted, start, end);
}

static void finish_frames(void)
{
    bus_report report;

    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        uint32_t *ids = mailbox_ids[bus];
        unsigned kept = 0;

        if (!bus_model_finish(&buses[bus], now, &report)) {
            continue;
        }
        if (report.entry.tag >= TRAFFIC_TAG) {
#if LOCUM_RECEIVES
            hear(&report.entry.frame);
#endif
            continue;
        }
        for (unsigned i = 0; i < mailbox_count[bus]; i++) {
            if (ids[i] != report.entry.frame.id) {
                ids[kept++] = ids[i];
            }
        }
        mailbox_count[bus] = kept;
        print_report(&report);
    }
}

static void apply_inputs(size_t *next_input)
{
    while (*next_input < stimulus.input_count && stimulus.inputs[*next_input].at <= now) {
        const script_input *input = &stimulus.inputs[(*next_input)++];
        const locum_input_set bit = (locum_input_set)(1u << input->input);

        levels = (locum_input_set)(input->level ? levels | bit : levels & (locum_input_set)~bit);
    }
}

static void release_traffic(void)
{
    for (size_t i = 0; i < stimulus.traffic_count; i++) {
        script_traffic *traffic = &stimulus.traffic[i];

        if (traffic->next > now || traffic->next >= traffic->until) {
            continue;
        }
        if (!bus_model_waits(&buses[traffic->frame.bus], TRAFFIC_TAG + (uint32_t)i)) {
            (void)bus_model_put(&buses[traffic->frame.bus], &traffic->frame,
                                TRAFFIC_TAG + (uint32_t)i, now);
        }
        traffic->next += traffic->period;
    }
}

static void apply_blocks(void)
{
    for (size_t i = 0; i < stimulus.blocked_count; i++) {
        const script_span *span = &stimulus.blocked[i];

        if (span->from <= now && now < span->until &&
            buses[span->bus].blocked_until < span->until) {
            buses[span->bus].blocked_until = span->until;
        }
    }
}

static bool stalled(void)
{
    for (size_t i = 0; i < stimulus.stall_count; i++) {
        if (stimulus.stalls[i].from <= now && now < stimulus.stalls[i].until) {
            return true;
        }
    }
    return false;
}

static void print_mode_changes(uint8_t *modes)
{
    for (uint8_t module = 0; module < locum_this_board.module_count; module++) {
        const uint8_t mode = locum_mode(&core, module);

        if (mode != modes[module]) {
            printf("mode %" PRIu64 " %u %u\n", now, (unsigned)module, (unsigned)mode);
            modes[module] = mode;
        }
    }
}

static void earlier(uint64_t *next, uint64_t candidate)
{
    if (candidate > now && candidate < *next) {
        *next = candidate;
    }
}

static uint64_t next_event(size_t next_input)
{
    uint64_t next = UINT64_MAX;
    uint64_t at;
    uint32_t due_us;

    if (next_input < stimulus.input_count) {
        earlier(&next, stimulus.inputs[next_input].at);
    }
    for (size_t i = 0; i < stimulus.traffic_count; i++) {
        if (stimulus.traffic[i].next < stimulus.traffic[i].until) {
            earlier(&next, stimulus.traffic[i].next);
        }
    }
    for (size_t i = 0; i < stimulus.blocked_count; i++) {
        earlier(&next, stimulus.blocked[i].from);
        earlier(&next, stimulus.blocked[i].until);
    }
    for (size_t i = 0; i < stimulus.stall_count; i++) {
        earlier(&next, stimulus.stalls[i].until);
    }
    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        if (bus_model_next(&buses[bus], now, &at)) {
            earlier(&next, at);
        }
    }
    if (!stalled() && locum_next_due(&core, &due_us)) {
        earlier(&next, now + (uint32_t)(due_us - locum_port_now_us()));
    }
    return next;
}

static void print_rest(void)
{
    char accepted[24];

    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        if (buses[bus].sending && buses[bus].current.entry.tag < TRAFFIC_TAG) {
            snprintf(accepted, sizeof accepted, "%" PRIu64, buses[bus].current.entry.offered);
            script_print_frame(&buses[bus].current.entry.frame, accepted, "-", "-");
        }
        for (unsigned i = 0; i < BUS_MODEL_QUEUE; i++) {
            const bus_entry *entry = &buses[bus].queue[i];

            if (entry->used && entry->tag < TRAFFIC_TAG) {
                snprintf(accepted, sizeof accepted, "%" PRIu64, entry->offered);
                script_print_frame(&entry->frame, accepted, "-", "-");
            }
        }
    }
    for (uint8_t row = 0; row < locum_this_board.rule_count; row++) {
        printf("skipped %u %u\n", (unsigned)row,
               (unsigned)locum_this_board.rule_states[row].skipped);
    }
}

int main(void)
{
    static uint8_t modes[MAX_MODULES];
    size_t next_input = 0;

    if (!script_read(&stimulus, stdin)) {
        return 2;
    }
    locum_port_init();
    locum_start(&core, &locum_this_board, locum_port_now_us());
    while (now <= stimulus.end) {
        finish_frames();
        apply_inputs(&next_input);
        apply_blocks();
        release_traffic();
        if (!stalled()) {
            locum_step(&core, locum_port_now_us(), locum_port_inputs());
            print_mode_changes(modes);
        }
        for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
            bus_model_start(&buses[bus], now);
        }
        now = next_event(next_input);
    }
    print_rest();
    return 0;
}
