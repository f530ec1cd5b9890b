/*
 * The board on a PC: reads a stimulus script from standard input, runs the core on a virtual clock
 * against modelled buses, and prints what happened (see script.h).
 *
 *   frame BUS ID DATA ACCEPTED START END   times in microseconds, "-" if it never started
 *   mode T MODULE MODE                     a module is in another mode after the step at T
 *   silent T CODE                          from T on the board is silent for a reason; 0: it talks
 *   output T N LEVEL                       from T on output N is on (1) or off (0)
 *   skipped ROW COUNT                      releases not sent since the last reset, per row of the
 *                                          frame table
 */
#include "locum_port.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>

#include "board_config.h"
#include "bus_model.h"
#include "lives.h"
#include "locum_tables.h"
#include "script.h"

#define TICKS_PER_SECOND 1000000u
#define TRAFFIC_TAG 0x80000000u
#define MAX_MODULES 255u

/* Bits that a controller counts before it is back from bus-off: 128 times 11 recessive ones. */
#define RECOVERY_BITS 1408u

/* What goes on when the board is reset. */
typedef struct {
    script stimulus; /* releases of traffic move on */
    bus_model buses[BOARD_BUSES];
    uint64_t now;
    uint32_t next_tag;
    size_t next_input;
    size_t next_bus_off;
    size_t next_reset;
    locum_input_set levels;
#if LOCUM_OUTPUTS
    locum_output_set outputs; /* that are on */
    locum_input_set wires;    /* inputs as outputs drive them, since driven_at */
    uint64_t driven_at;
    bool drives;
#endif
#if LOCUM_GUARD_KEEP
    locum_kept kept;
#endif
} world;

static world around;
static locum_core core;
/* Identifiers and marks in the mailboxes of each controller, in order of acceptance. */
static uint32_t mailbox_ids[BOARD_BUSES][BOARD_MAILBOXES];
static uint32_t mailbox_tags[BOARD_BUSES][BOARD_MAILBOXES];
static unsigned mailbox_count[BOARD_BUSES];
#if LOCUM_GUARD_BUS_OFF
static bool off[BOARD_BUSES];
#endif

void locum_port_init(void)
{
    /* Buses outlive the board; main opens them. */
}

static void open_buses(void)
{
    static const uint32_t rates[BOARD_BUSES] = BOARD_RATES;
    static const uint32_t data_rates[BOARD_BUSES] = BOARD_DATA_RATES;

    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        bus_model_init(&around.buses[bus], rates[bus], TICKS_PER_SECOND);
        around.buses[bus].held_below = TRAFFIC_TAG;
        around.buses[bus].data_rate = data_rates[bus];
    }
}

uint32_t locum_port_now_us(void)
{
    return (uint32_t)around.now + around.stimulus.clock;
}

locum_input_set locum_port_inputs(void)
{
    return around.levels;
}

static void put(unsigned bus, const locum_frame *frame, uint32_t tag)
{
    if (!bus_model_put(&around.buses[bus], frame, tag, around.now)) {
        fprintf(stderr, "too many frames wait for the bus\n");
        exit(3);
    }
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
    if (*count == BOARD_MAILBOXES) {
        return false;
    }
    put(frame->bus, frame, around.next_tag);
    mailbox_tags[frame->bus][*count] = around.next_tag;
    around.next_tag = (around.next_tag + 1u) % TRAFFIC_TAG;
    ids[(*count)++] = frame->id;
    return true;
}

#if LOCUM_WATCHES_LEAVING
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

#if LOCUM_LISTENS
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
        unsigned kept = 0;

        if (!bus_model_finish(&around.buses[bus], around.now, &report)) {
            continue;
        }
        if (report.entry.tag >= TRAFFIC_TAG) {
#if LOCUM_LISTENS
            if (around.now >= around.buses[bus].held_until) {
                hear(&report.entry.frame);
            }
#endif
            continue;
        }
        for (unsigned i = 0; i < mailbox_count[bus]; i++) {
            if (mailbox_tags[bus][i] != report.entry.tag) {
                mailbox_ids[bus][kept] = mailbox_ids[bus][i];
                mailbox_tags[bus][kept++] = mailbox_tags[bus][i];
            }
        }
        mailbox_count[bus] = kept;
        print_report(&report);
    }
}

/* ---- outputs ---- */

#if LOCUM_OUTPUTS
/* The inputs that read outputs back, by output: a bit, or none. */
static const locum_input_set read_back[LOCUM_OUTPUTS] = BOARD_READ_BACK;

static void switch_outputs(locum_output_set on)
{
    for (uint8_t i = 0; i < LOCUM_OUTPUTS; i++) {
        const locum_output_set bit = (locum_output_set)(1u << i);

        if (((on ^ around.outputs) & bit) == 0u) {
            continue;
        }
        printf("output %" PRIu64 " %u %u\n", around.now, (unsigned)i, (on & bit) != 0u ? 1u : 0u);
        around.wires ^= read_back[i];
    }
    around.outputs = on;
    /* An edge reaches the inputs on its wire a microsecond later. */
    around.driven_at = around.now + 1u;
    around.drives = true;
}

void locum_port_outputs(locum_output_set levels)
{
    switch_outputs(levels ^ locum_this_board.outputs_low);
}

static void apply_wires(void)
{
    locum_input_set all = 0;

    for (uint8_t i = 0; i < LOCUM_OUTPUTS; i++) {
        all |= read_back[i];
    }
    if (around.drives && around.driven_at <= around.now) {
        around.levels = (locum_input_set)((around.levels & ~all) | (around.wires & all));
        around.levels ^= locum_this_board.active_low & all;
        around.drives = false;
    }
}
#endif

/* ---- guards ---- */

/* Frames taken back are printed as frames that never started. */
static void withdraw(unsigned bus)
{
    bus_entry entry;
    char accepted[24];
    unsigned kept = 0;

    while (bus_model_withdraw(&around.buses[bus], TRAFFIC_TAG, &entry)) {
        snprintf(accepted, sizeof accepted, "%" PRIu64, entry.offered);
        script_print_frame(&entry.frame, accepted, "-", "-");
    }
    for (unsigned i = 0; i < mailbox_count[bus]; i++) {
        if (around.buses[bus].sending &&
            mailbox_tags[bus][i] == around.buses[bus].current.entry.tag) {
            mailbox_ids[bus][kept] = mailbox_ids[bus][i];
            mailbox_tags[bus][kept++] = mailbox_tags[bus][i];
        }
    }
    mailbox_count[bus] = kept;
}

static uint64_t recovered(unsigned bus)
{
    const uint64_t rate = around.buses[bus].rate;

    return around.now + (RECOVERY_BITS * (uint64_t)TICKS_PER_SECOND + rate - 1u) / rate;
}

#if LOCUM_GUARDS
void locum_port_withdraw(uint8_t bus)
{
    withdraw(bus);
}

void locum_port_led(uint8_t code)
{
    printf("silent %" PRIu64 " %u\n", around.now, (unsigned)code);
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool locum_port_bus_off(uint8_t bus)
{
    return off[bus];
}

void locum_port_restart(uint8_t bus)
{
    off[bus] = false;
    around.buses[bus].held_until = recovered(bus);
}
#endif

#if LOCUM_GUARD_KEEP
locum_reset_cause locum_port_reset_cause(void)
{
    return around.next_reset == 0u
               ? LOCUM_RESET_POWER
               : (locum_reset_cause)around.stimulus.resets[around.next_reset - 1u].what;
}
#endif

static void apply_bus_offs(void)
{
    while (around.next_bus_off < around.stimulus.bus_off_count &&
           around.stimulus.bus_offs[around.next_bus_off].at <= around.now) {
        const uint8_t bus = around.stimulus.bus_offs[around.next_bus_off++].what;

        if (around.now < around.buses[bus].held_until) {
            continue; /* not on the bus */
        }
#if LOCUM_GUARD_BUS_OFF
        off[bus] = true;
        around.buses[bus].held_until = UINT64_MAX;
#else
        around.buses[bus].held_until = recovered(bus);
#endif
    }
}

static bool reset_comes(void)
{
    return around.next_reset < around.stimulus.reset_count &&
           around.stimulus.resets[around.next_reset].at <= around.stimulus.end;
}

static void end_life(void)
{
    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        withdraw(bus);
        if (around.buses[bus].held_until == UINT64_MAX) {
            around.buses[bus].held_until = recovered(bus);
        }
    }
    around.next_reset++;
#if LOCUM_OUTPUTS
    if (around.outputs != 0u) {
        switch_outputs(0);
    }
#endif
#if LOCUM_GUARD_KEEP
    around.kept = locum_kept_over_reset;
#endif
    lives_end(&around, sizeof around);
}

/* ---- the world ---- */

static void apply_inputs(void)
{
    while (around.next_input < around.stimulus.input_count &&
           around.stimulus.inputs[around.next_input].at <= around.now) {
        const script_input *input = &around.stimulus.inputs[around.next_input++];
        const locum_input_set bit = (locum_input_set)(1u << input->input);

        around.levels = (locum_input_set)(input->level ? around.levels | bit
                                                       : around.levels & (locum_input_set)~bit);
    }
}

static void release_traffic(void)
{
    for (size_t i = 0; i < around.stimulus.traffic_count; i++) {
        script_traffic *traffic = &around.stimulus.traffic[i];

        if (traffic->next > around.now || traffic->next >= traffic->until) {
            continue;
        }
        if (!bus_model_waits(&around.buses[traffic->frame.bus], TRAFFIC_TAG + (uint32_t)i)) {
            put(traffic->frame.bus, &traffic->frame, TRAFFIC_TAG + (uint32_t)i);
        }
        traffic->next += traffic->period;
    }
}

static void apply_blocks(void)
{
    for (size_t i = 0; i < around.stimulus.blocked_count; i++) {
        const script_span *span = &around.stimulus.blocked[i];

        if (span->from <= around.now && around.now < span->until &&
            around.buses[span->bus].blocked_until < span->until) {
            around.buses[span->bus].blocked_until = span->until;
        }
    }
}

static bool stalled(void)
{
    for (size_t i = 0; i < around.stimulus.stall_count; i++) {
        if (around.stimulus.stalls[i].from <= around.now &&
            around.now < around.stimulus.stalls[i].until) {
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
            printf("mode %" PRIu64 " %u %u\n", around.now, (unsigned)module, (unsigned)mode);
            modes[module] = mode;
        }
    }
}

static void earlier(uint64_t *next, uint64_t candidate)
{
    if (candidate > around.now && candidate < *next) {
        *next = candidate;
    }
}

static uint64_t next_event(void)
{
    uint64_t next = UINT64_MAX;
    uint64_t at;
    uint32_t due_us;

    if (around.next_input < around.stimulus.input_count) {
        earlier(&next, around.stimulus.inputs[around.next_input].at);
    }
#if LOCUM_OUTPUTS
    if (around.drives) {
        earlier(&next, around.driven_at);
    }
#endif
    if (around.next_bus_off < around.stimulus.bus_off_count) {
        earlier(&next, around.stimulus.bus_offs[around.next_bus_off].at);
    }
    if (reset_comes()) {
        earlier(&next, around.stimulus.resets[around.next_reset].at);
    }
    for (size_t i = 0; i < around.stimulus.traffic_count; i++) {
        if (around.stimulus.traffic[i].next < around.stimulus.traffic[i].until) {
            earlier(&next, around.stimulus.traffic[i].next);
        }
    }
    for (size_t i = 0; i < around.stimulus.blocked_count; i++) {
        earlier(&next, around.stimulus.blocked[i].from);
        earlier(&next, around.stimulus.blocked[i].until);
    }
    for (size_t i = 0; i < around.stimulus.stall_count; i++) {
        earlier(&next, around.stimulus.stalls[i].until);
    }
    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        if (bus_model_next(&around.buses[bus], around.now, &at)) {
            earlier(&next, at);
        }
    }
    if (!stalled() && locum_next_due(&core, &due_us)) {
        earlier(&next, around.now + (uint32_t)(due_us - locum_port_now_us()));
    }
    return next;
}

static void print_rest(void)
{
    char accepted[24];

    for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
        if (around.buses[bus].sending && around.buses[bus].current.entry.tag < TRAFFIC_TAG) {
            snprintf(accepted, sizeof accepted, "%" PRIu64,
                     around.buses[bus].current.entry.offered);
            script_print_frame(&around.buses[bus].current.entry.frame, accepted, "-", "-");
        }
        for (unsigned i = 0; i < BUS_MODEL_QUEUE; i++) {
            const bus_entry *entry = &around.buses[bus].queue[i];

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

static void live(void)
{
    static uint8_t modes[MAX_MODULES];

#if LOCUM_GUARD_KEEP
    if (locum_port_reset_cause() != LOCUM_RESET_POWER) {
        locum_kept_over_reset = around.kept;
    }
#endif
    locum_port_init();
    locum_start(&core, &locum_this_board, locum_port_now_us());
    while (around.now <= around.stimulus.end) {
        finish_frames();
        if (reset_comes() && around.stimulus.resets[around.next_reset].at == around.now) {
            end_life();
        }
#if LOCUM_OUTPUTS
        apply_wires();
#endif
        apply_inputs();
        apply_bus_offs();
        apply_blocks();
        release_traffic();
        if (!stalled()) {
            locum_step(&core, locum_port_now_us(), locum_port_inputs());
            print_mode_changes(modes);
        }
        for (unsigned bus = 0; bus < BOARD_BUSES; bus++) {
            bus_model_start(&around.buses[bus], around.now);
        }
        around.now = next_event();
    }
    print_rest();
}

int main(void)
{
    if (!script_read(&around.stimulus, stdin)) {
        return 2;
    }
    open_buses();
    while (reset_comes()) {
        if (!lives_begin(&around, sizeof around)) {
            break;
        }
    }
    live();
    return 0;
}
