#include "board_model.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "can_operations.h"
#include "device_map.h"
#include "report.h"

#define NS_PER_US 1000u

static uint32_t can_clock(void *owner)
{
    return clock_tree_can(&((const board_model *)owner)->clock);
}

static uint32_t register_clock(void *owner)
{
    return clock_tree_apb1(&((const board_model *)owner)->clock);
}

static bool check_can_pins(void *owner, unsigned index)
{
    const board_model *board = owner;
    const can_route *route = board->options->routes[index];
    const char *wrong = ports_check_route(&board->ports, route);
    const char bus[2] = {(char)('0' + index), 0};

    if (wrong != NULL) {
        report_fault(bus, "%s: %s", route->pins, wrong);
    }
    return wrong == NULL;
}

static void frame_requested(void *owner)
{
    board_model *board = owner;

    board->counts.frames++;
    if (board->counts.first_frame_at == UINT64_MAX) {
        board->counts.first_frame_at = board->now;
    }
}

static void raise_line(uint32_t lines[NVIC_WORDS], unsigned irq, bool request)
{
    if (request) {
        lines[irq / 32u] |= 1u << (irq % 32u);
    }
}

static void set_lines(board_model *board)
{
    const chip *chip = board->chip;
    const uint32_t edges = ports_requests(&board->ports);
    uint32_t lines[NVIC_WORDS] = {0};

    for (unsigned line = 0; line < PIN_COUNT; line++) {
        raise_line(lines, chip->line_irqs[line], ((edges >> line) & 1u) != 0u);
    }
    raise_line(lines, chip->tim2_irq, timers_request(&board->timers, 0));
    raise_line(lines, chip->tim3_irq, timers_request(&board->timers, 1));
    for (unsigned i = 0; i < chip->controllers; i++) {
        for (unsigned n = 0; n < 4u; n++) {
            if (chip->can_irqs[i][n] != 0u && board->cans[i].is_used) {
                raise_line(lines, chip->can_irqs[i][n],
                           board->cans[i].operations->request(board->cans[i].can, n));
            }
        }
    }
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
    for (unsigned i = 0; i < board->options->buses; i++) {
        next = least(next, board->cans[i].operations->next(board->cans[i].can));
        next = least(next, wire_next(&board->cans[i].wire, board->now));
    }
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

    if (board->options->watching && ports_is_output(&board->ports, pin.port, pin.pin) &&
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
        const can_port *port = &board->cans[bus];

        if (bus < board->options->buses && port->operations->on_bus(port->can)) {
            port->operations->count_errors(port->can, errors, board->now);
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
    for (unsigned i = 0; i < board->options->buses; i++) {
        can_port *port = &board->cans[i];

        if (wire_finish(&port->wire, board->now, &report)) {
            if (report.entry.tag < WIRE_TRAFFIC_TAG) {
                port->operations->sent(port->can, report.entry.tag);
                print_report(&report);
            } else {
                port->operations->hear(port->can, &report.entry.frame);
            }
        }
        port->operations->advance(port->can, board->now);
        wire_start(&port->wire, board->now);
    }
    watch_pin(board);
    set_lines(board);
    find_next(board);
}

static void init_controllers(board_model *board)
{
    const bxcan_board under_bxcan = {can_clock, check_can_pins, frame_requested, board};
    const fdcan_board under_fdcan = {can_clock, register_clock, check_can_pins, frame_requested,
                                     board};

    board->bxcan_filters.count =
        board->chip->controllers > 1u ? BXCAN_FILTER_BANKS : BXCAN_SINGLE_BANKS;
    for (unsigned i = 0; i < board->chip->controllers; i++) {
        can_port *port = &board->cans[i];

        port->is_used = i < board->options->buses;
        wire_init(&port->wire, board->script, (uint8_t)i, board->options->rates[i],
                  board->options->data_rates[i]);
        if (board->chip->fdcan != NULL) {
            port->operations = &can_operations_fdcan;
            port->can = &board->fdcans[i];
            fdcan_init(&board->fdcans[i], board->chip->fdcan, i, &board->fdcan_ram, &port->wire,
                       &under_fdcan);
            board->fdcans[i].alone = board->options->alone;
        } else {
            port->operations = &can_operations_bxcan;
            port->can = &board->bxcans[i];
            bxcan_init(&board->bxcans[i], i, &board->bxcan_filters, &port->wire, &under_bxcan);
            board->bxcans[i].alone = board->options->alone;
        }
    }
}

static void reset_devices(board_model *board, clock_cause cause, uint32_t clock)
{
    clock_tree_reset(&board->clock, cause);
    ports_reset(&board->ports, board->chip);
    timers_reset(&board->timers, board->chip->wide_tim2, clock);
    watchdog_reset(&board->watchdog, board->chip->watchdog_hz);
    nvic_reset(&board->nvic);
    memset(board->power, 0, sizeof board->power);
}

void board_model_init(board_model *board, const options *options, script *script)
{
    memset(board, 0, sizeof *board);
    board->chip = options->chip;
    board->options = options;
    board->script = script;
    board->watched_level = -1;
    board->counts.first_frame_at = UINT64_MAX;
    board->counts.clock_start = UINT64_MAX;
    board->clock.family = board->chip->clock;
    board->clock.crystal_hz = options->crystal_hz;
    board->clock.crystal_missing = options->crystal_missing;
    board->clock.crystal_stops_at = options->crystal_stops_us == UINT64_MAX
                                        ? UINT64_MAX
                                        : options->crystal_stops_us * NS_PER_US;
    reset_devices(board, CLOCK_POWER, script->clock);
    init_controllers(board);
    live(board);
}

void board_model_reset(board_model *board)
{
    printf("reset %" PRIu64 "\n", board->now / NS_PER_US);
    board->reset_asked = false;
    board->lives = false;
    reset_devices(board, board->reset_cause == LOCUM_RESET_WATCHDOG ? CLOCK_WATCHDOG : CLOCK_POWER,
                  0);
    for (unsigned i = 0; i < board->chip->controllers; i++) {
        board->cans[i].operations->reset(board->cans[i].can, board->now);
    }
    live(board);
}

unsigned board_model_heard(const board_model *board)
{
    unsigned sum = 0;

    for (unsigned i = 0; i < board->chip->controllers; i++) {
        sum += board->cans[i].operations->heard(board->cans[i].can);
    }
    return sum;
}

unsigned board_model_overruns(const board_model *board)
{
    unsigned sum = 0;

    for (unsigned i = 0; i < board->chip->controllers; i++) {
        sum += board->cans[i].operations->overruns(board->cans[i].can);
    }
    return sum;
}

void board_model_print_waiting(const board_model *board)
{
    for (unsigned i = 0; i < board->chip->controllers; i++) {
        board->cans[i].operations->print_waiting(board->cans[i].can);
    }
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
