#include "board_model.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "device_map.h"
#include "report.h"

#define NS_PER_US 1000u

/* Positions in the vector table of a medium-density device (RM0008). */
enum {
    IRQ_EXTI0 = 6,
    IRQ_CAN_TX = 19,
    IRQ_CAN_RX0 = 20,
    IRQ_CAN_RX1 = 21,
    IRQ_CAN_SCE = 22,
    IRQ_EXTI9_5 = 23,
    IRQ_TIM2 = 28,
    IRQ_TIM3 = 29,
    IRQ_EXTI15_10 = 40
};

#define CAN_ALTERNATE_PUSH_PULL(configuration)                                                     \
    (((configuration)&3u) != 0u && ((configuration)&0xCu) == 8u)
#define REMAP_FIELD ((uint32_t)3u << 13)
#define REMAP_B8_B9 ((uint32_t)2u << 13)

static uint32_t can_clock(void *owner)
{
    const board_model *board = owner;

    return clock_tree_apb1(&board->clock);
}

static bool check_can_pins(void *owner)
{
    const board_model *board = owner;
    const bool on_b = board->options->can_on_b;
    const unsigned receive = ports_configuration(&board->ports, on_b ? 1u : 0u, on_b ? 8u : 11u);
    const unsigned transmit = ports_configuration(&board->ports, on_b ? 1u : 0u, on_b ? 9u : 12u);
    bool good = true;

    if ((board->ports.mapr & REMAP_FIELD) != (on_b ? REMAP_B8_B9 : 0u)) {
        report_fault("0", "the controller is not at %s", on_b ? "PB8/PB9" : "PA11/PA12");
        good = false;
    }
    if (!CAN_ALTERNATE_PUSH_PULL(transmit)) {
        report_fault("0", "the transmit pin is not an alternate push-pull output");
        good = false;
    }
    if (receive != 4u && receive != 8u) {
        report_fault("0", "the receive pin is not an input");
        good = false;
    }
    return good;
}

static void frame_requested(void *owner)
{
    board_model *board = owner;

    board->counts.frames++;
    if (board->counts.first_frame_at == UINT64_MAX) {
        board->counts.first_frame_at = board->now;
    }
}

static void set_lines(board_model *board)
{
    const uint32_t edges = ports_requests(&board->ports);
    uint32_t lines[NVIC_WORDS] = {0, 0};

    lines[0] = (edges & 0x1Fu) << IRQ_EXTI0;
    lines[0] |= (edges & 0x3E0u) != 0u ? 1u << IRQ_EXTI9_5 : 0u;
    lines[0] |= bxcan_transmit_request(&board->can) ? 1u << IRQ_CAN_TX : 0u;
    lines[0] |= bxcan_receive_request(&board->can, 0) ? 1u << IRQ_CAN_RX0 : 0u;
    lines[0] |= bxcan_receive_request(&board->can, 1) ? 1u << IRQ_CAN_RX1 : 0u;
    lines[0] |= bxcan_error_request(&board->can) ? 1u << IRQ_CAN_SCE : 0u;
    lines[0] |= timers_request(&board->timers, 0) ? 1u << IRQ_TIM2 : 0u;
    lines[0] |= timers_request(&board->timers, 1) ? 1u << IRQ_TIM3 : 0u;
    lines[1] = (edges & 0xFC00u) != 0u ? 1u << (IRQ_EXTI15_10 - 32) : 0u;
    nvic_set_lines(&board->nvic, lines, clock_tree_nmi(&board->clock));
}

static uint64_t least(uint64_t a, uint64_t b)
{
    return a < b ? a : b;
}

static void find_next(board_model *board)
{
    uint64_t next = clock_tree_next(&board->clock);

    next = least(next, timers_next(&board->timers));
    next = least(next, board->watchdog.expires_at);
    next = least(next, bxcan_next(&board->can));
    next = least(next, wire_next(&board->wire, board->now));
    next = least(next, bus_offs_next(&board->offs, board->script));
    if (board->inputs_done < board->script->input_count) {
        next = least(next, board->script->inputs[board->inputs_done].at * NS_PER_US);
    }
    if (board->resets_done < board->script->reset_count) {
        next = least(next, board->script->resets[board->resets_done].at * NS_PER_US);
    }
    board->next = next > board->now ? next : board->now;
}

static void print_report(const bus_report *report)
{
    const uint64_t times[3] = {report->entry.offered, report->start, report->end};
    char text[3][32];

    for (unsigned i = 0; i < 3u; i++) {
        snprintf(text[i], sizeof text[i], "%" PRIu64 ".%03u", times[i] / NS_PER_US,
                 (unsigned)(times[i] % NS_PER_US));
    }
    script_print_frame(&report->entry.frame, text[0], text[1], text[2]);
}

static void drive_inputs(board_model *board)
{
    while (board->inputs_done < board->script->input_count &&
           board->script->inputs[board->inputs_done].at * NS_PER_US <= board->now) {
        const script_input *input = &board->script->inputs[board->inputs_done++];

        if (input->input < OPTIONS_MAX_INPUTS && board->options->has_input[input->input]) {
            const board_pin pin = board->options->inputs[input->input];

            ports_drive(&board->ports, pin.port, pin.pin, input->level);
        }
    }
}

static void watch_pin(board_model *board)
{
    const board_pin pin = board->options->watched;
    const bool level = ports_level(&board->ports, pin.port, pin.pin);

    if (board->options->watching &&
        (ports_configuration(&board->ports, pin.port, pin.pin) & 3u) != 0u &&
        board->watched_level != (int)level) {
        board->watched_level = level;
        printf("pin %c%u %u %" PRIu64 "\n", 'A' + pin.port, pin.pin, level ? 1u : 0u,
               board->now / NS_PER_US);
    }
}

static void ask_for_resets(board_model *board)
{
    const script *script = board->script;

    if (board->watchdog.expires_at <= board->now) {
        report_fault("-", "the watchdog has expired at %" PRIu64 " us", board->now / NS_PER_US);
        board->watchdog.expires_at = UINT64_MAX;
        board->reset_cause = LOCUM_RESET_WATCHDOG;
        board->reset_asked = true;
    }
    if (board->resets_done < script->reset_count &&
        script->resets[board->resets_done].at * NS_PER_US <= board->now) {
        board->reset_cause = (locum_reset_cause)script->resets[board->resets_done++].what;
        board->reset_asked = true;
    }
}

static void raise_errors(board_model *board)
{
    uint8_t bus;
    unsigned errors;

    while (bus_offs_take(&board->offs, board->script, board->now, &bus, &errors)) {
        if (bxcan_on_bus(&board->can)) {
            bxcan_count_errors(&board->can, errors, board->now);
        }
    }
}

static void note_start(board_model *board)
{
    if (board->lives || board->timers.started_at == UINT64_MAX) {
        return;
    }
    board->lives = true;
    printf("life %.3f\n", (double)board->timers.started_at / NS_PER_US);
    if (board->counts.clock_start == UINT64_MAX) {
        board->counts.clock_start = board->timers.started_at;
    }
}

static void live(board_model *board)
{
    bus_report report;

    clock_tree_advance(&board->clock, board->now);
    timers_set_clock(&board->timers, clock_tree_timers(&board->clock));
    timers_advance(&board->timers, board->now);
    ask_for_resets(board);
    note_start(board);
    drive_inputs(board);
    raise_errors(board);
    if (wire_finish(&board->wire, board->now, &report)) {
        if (report.entry.tag < WIRE_TRAFFIC_TAG) {
            bxcan_sent(&board->can, report.entry.tag);
            print_report(&report);
        } else {
            bxcan_hear(&board->can, &report.entry.frame);
        }
    }
    bxcan_advance(&board->can, board->now);
    wire_start(&board->wire, board->now);
    watch_pin(board);
    set_lines(board);
    find_next(board);
}

void board_model_init(board_model *board, const options *options, script *script)
{
    const bxcan_board can_board = {can_clock, check_can_pins, frame_requested, board};

    memset(board, 0, sizeof *board);
    board->options = options;
    board->script = script;
    board->watched_level = -1;
    board->counts.first_frame_at = UINT64_MAX;
    board->counts.clock_start = UINT64_MAX;
    board->clock.crystal_missing = options->crystal_missing;
    board->clock.crystal_stops_at = options->crystal_stops_us == UINT64_MAX
                                        ? UINT64_MAX
                                        : options->crystal_stops_us * NS_PER_US;
    clock_tree_reset(&board->clock, CSR_POWER);
    ports_reset(&board->ports);
    timers_reset(&board->timers, script->clock);
    watchdog_reset(&board->watchdog);
    nvic_reset(&board->nvic);
    wire_init(&board->wire, script, options->rate);
    bxcan_init(&board->can, &board->wire, &can_board);
    board->can.alone = options->alone;
    live(board);
}

void board_model_reset(board_model *board)
{
    printf("reset %" PRIu64 "\n", board->now / NS_PER_US);
    board->reset_asked = false;
    board->lives = false;
    clock_tree_reset(&board->clock,
                     board->reset_cause == LOCUM_RESET_WATCHDOG ? CSR_WATCHDOG : CSR_POWER);
    ports_reset(&board->ports);
    timers_reset(&board->timers, 0);
    watchdog_reset(&board->watchdog);
    nvic_reset(&board->nvic);
    bxcan_reset(&board->can, board->now);
    live(board);
}

void board_model_advance(board_model *board, uint64_t to)
{
    while (board->next <= to && !board->stopped && !board->reset_asked) {
        board->now = board->next;
        live(board);
    }
    if (!board->reset_asked) {
        board->now = to;
    }
}

uint64_t board_model_stall_end(const board_model *board)
{
    for (size_t i = 0; i < board->script->stall_count; i++) {
        const script_span *span = &board->script->stalls[i];

        if (span->from * NS_PER_US <= board->now && board->now < span->until * NS_PER_US) {
            return span->until * NS_PER_US;
        }
    }
    return 0;
}

uint32_t board_model_read(board_model *board, uint32_t address)
{
    if (board->reset_asked) {
        return 0;
    }
    live(board);
    return device_map_read(board, address);
}

void board_model_write(board_model *board, uint32_t address, uint32_t value)
{
    if (board->reset_asked) {
        return; /* the core runs on to the end of the block */
    }
    live(board);
    device_map_write(board, address, value);
    live(board);
}
