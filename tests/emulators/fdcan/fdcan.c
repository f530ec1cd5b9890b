#include "fdcan.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "fdcan_send.h"
#include "report.h"

#define HANDSHAKE_NS 500u
#define ERROR_FRAME_BITS 17u /* flag, delimiter, intermission, less the rest of the frame */

void fdcan_init(fdcan *can, const fdcan_kind *kind, unsigned index, fdcan_ram *ram, wire *wire,
                const fdcan_board *board)
{
    memset(can, 0, sizeof *can);
    can->kind = kind;
    can->index = index;
    can->ram = ram;
    can->wire = wire;
    can->board = *board;
    snprintf(can->name, sizeof can->name, "%u", index % 10u);
    for (unsigned i = 0; i < FDCAN_RAM_WORDS; i++) {
        ram->words[i] = FDCAN_RAM_PAINT;
    }
    fdcan_reset(can, 0);
}

static void take_back(fdcan *can, unsigned buffer)
{
    if (can->buffers[buffer].on_wire && bus_model_take_back(&can->wire->bus, buffer)) {
        can->buffers[buffer].on_wire = false;
    }
}

static bool is_sending(const fdcan *can)
{
    return can->wire->bus.sending && can->wire->bus.current.entry.tag < FDCAN_MAX_BUFFERS;
}

void fdcan_reset(fdcan *can, uint64_t now)
{
    if (is_sending(can)) {
        wire_cut(can->wire, now);
    }
    fdcan_print_waiting(can);
    for (unsigned i = 0; i < FDCAN_MAX_BUFFERS; i++) {
        take_back(can, i);
        can->buffers[i] = (fdcan_buffer_state){0};
    }
    memset(can->values, 0, sizeof can->values);
    for (unsigned i = 0; i < can->kind->register_count; i++) {
        can->values[can->kind->registers[i].name] = can->kind->registers[i].reset;
    }
    can->pending = 0;
    can->mode = FDCAN_INITIAL;
    can->mode_at = UINT64_MAX;
    can->get = 0;
    can->fill = 0;
    can->transmit_errors = 0;
    can->recovering = false;
    can->attempt_ends = UINT64_MAX;
}

static bool waits(const fdcan *can, unsigned buffer)
{
    return (can->pending & (1u << buffer)) != 0u;
}

static void print_waiting(const fdcan *can, unsigned buffer)
{
    const locum_frame frame = fdcan_buffer_frame(can, buffer);
    const uint64_t at = can->buffers[buffer].requested_at;
    char accepted[32];

    snprintf(accepted, sizeof accepted, "%" PRIu64 ".%03u", at / 1000u, (unsigned)(at % 1000u));
    script_print_frame(&frame, accepted, "-", "-");
}

void fdcan_print_waiting(const fdcan *can)
{
    for (unsigned i = 0; i < FDCAN_MAX_BUFFERS; i++) {
        if (waits(can, i)) {
            print_waiting(can, i);
        }
    }
}

unsigned fdcan_put_index(const fdcan *can)
{
    const unsigned count = fdcan_transmit_list(can).count;
    unsigned put = 0;

    while (put < count && waits(can, put)) {
        put++;
    }
    return put;
}

/* Queue: the identifier that wins, of equal ones the lower buffer. FIFO: the older request. */
static bool goes_first(const fdcan *can, unsigned a, unsigned b)
{
    const uint32_t a_id = fdcan_buffer_frame(can, a).id;
    const uint32_t b_id = fdcan_buffer_frame(can, b).id;

    if (!fdcan_is_queue(can)) {
        return can->buffers[a].order < can->buffers[b].order;
    }
    return bus_model_wins(a_id, b_id) || (!bus_model_wins(b_id, a_id) && a < b);
}

static unsigned first_waiting(const fdcan *can)
{
    unsigned found = FDCAN_MAX_BUFFERS;

    for (unsigned i = 0; i < FDCAN_MAX_BUFFERS; i++) {
        if (waits(can, i) && (found == FDCAN_MAX_BUFFERS || goes_first(can, i, found))) {
            found = i;
        }
    }
    return found;
}

static bool near(double rate, double wanted)
{
    return rate > wanted * 0.995 && rate < wanted * 1.005;
}

/* Whether what the program set up fits the bus; reports what does not. */
static bool fits_bus(const fdcan *can)
{
    const uint32_t nbtp = can->values[NBTP];
    const uint32_t dbtp = can->values[DBTP];
    const double hz = (double)can->board.clock_hz(can->board.owner);
    const double rate =
        hz / (double)(((nbtp >> 16) & 0x1FFu) + 1u) / (3u + ((nbtp >> 8) & 0xFFu) + (nbtp & 0x7Fu));
    const double data_rate = hz / (double)(((dbtp >> 16) & 0x1Fu) + 1u) /
                             (3u + ((dbtp >> 8) & 0x1Fu) + ((dbtp >> 4) & 0xFu));
    const bool is_fd = can->wire->bus.data_rate != can->wire->bus.rate;
    const uint32_t offset = (can->values[TDCR] >> 8) & 0x7Fu;
    bool fits = can->board.check_pins(can->board.owner, can->index) && fdcan_check_settings(can);

    if (!near(rate, can->wire->bus.rate)) {
        report_fault(can->name, "bit rate %.0f is not %u", rate, can->wire->bus.rate);
        fits = false;
    }
    if (is_fd && !near(data_rate, can->wire->bus.data_rate)) {
        report_fault(can->name, "data bit rate %.0f is not %u", data_rate,
                     can->wire->bus.data_rate);
        fits = false;
    }
    /* The second sample point: within the bit it belongs to. */
    if (is_fd && (dbtp & DBTP_TDC) != 0u &&
        (offset == 0u || (double)offset >= hz / (double)can->wire->bus.data_rate)) {
        report_fault(can->name, "delay compensation offset %u is outside the bit", offset);
        fits = false;
    }
    return fits;
}

void fdcan_request(fdcan *can, unsigned buffer, uint64_t now)
{
    /* Of a queue any empty buffer may be used. */
    if (!fdcan_is_queue(can) && buffer != fdcan_put_index(can)) {
        report_fault(can->name, "buffer %u was requested, not the one of the put index", buffer);
    }
    can->buffers[buffer].requested_at = now;
    can->buffers[buffer].order = can->requests++;
    can->pending |= 1u << buffer;
    can->values[TXBTO] &= ~(1u << buffer);
    can->values[TXBCF] &= ~(1u << buffer);
    (void)fits_bus(can);
    can->board.requested(can->board.owner);
}

static void finish(fdcan *can, unsigned buffer)
{
    can->pending &= ~(1u << buffer);
    can->buffers[buffer].on_wire = false;
}

void fdcan_cancel(fdcan *can, unsigned buffer)
{
    take_back(can, buffer);
    if (waits(can, buffer) && !can->buffers[buffer].on_wire) {
        print_waiting(can, buffer);
        finish(can, buffer);
        can->values[TXBCF] |= 1u << buffer;
        if ((can->values[TXBCIE] & (1u << buffer)) != 0u) {
            can->values[IR] |= can->kind->tcf;
        }
    }
}

void fdcan_sent(fdcan *can, uint32_t tag)
{
    finish(can, tag);
    can->values[TXBTO] |= 1u << tag;
    if ((can->values[TXBTIE] & (1u << tag)) != 0u) {
        can->values[IR] |= can->kind->tc;
    }
}

void fdcan_hear(fdcan *can, const locum_frame *frame)
{
    const fdcan_list fifo = fdcan_fifo0(can);
    fdcan_verdict verdict;

    if (!fdcan_on_bus(can) || !fits_bus(can)) {
        return; /* at another rate it would be noise */
    }
    if ((frame->id & LOCUM_ID_FD) != 0u && (can->values[CCCR] & CCCR_FDOE) == 0u) {
        report_fault(can->name, "a CAN FD frame meets a controller in classic operation");
        return;
    }
    verdict = fdcan_filter(can, frame->id);
    if (!verdict.taken) {
        return;
    }
    can->heard++;
    if (can->fill == fifo.count) {
        can->values[IR] |= can->kind->rf0l;
        can->overruns++;
        return;
    }
    fdcan_store(can, (can->get + can->fill) % fifo.count, frame, verdict);
    can->fill++;
    can->values[IR] |= can->kind->rf0n | (can->fill == fifo.count ? can->kind->rf0f : 0u);
}

void fdcan_ask_mode(fdcan *can, uint64_t now)
{
    if ((can->values[CCCR] & CCCR_INIT) != 0u) {
        can->mode_at = now + HANDSHAKE_NS;
    } else if (can->mode == FDCAN_INITIAL) {
        can->mode_at = UINT64_MAX;
        can->mode = FDCAN_JOINING;
        can->listens_from = now;
    }
}

bool fdcan_on_bus(const fdcan *can)
{
    return can->mode == FDCAN_NORMAL && can->transmit_errors < 256u;
}

/* "The CPU must clear INIT; then the device waits for 129 occurrences of bus idle" – the standard's
 * 128, and the one with which every controller joins. INIT is set by the controller. */
void fdcan_count_errors(fdcan *can, uint32_t transmit_errors, uint64_t now)
{
    const bool went_off = transmit_errors > 255u && can->transmit_errors <= 255u;

    (void)now;
    if (transmit_errors > 127u && can->transmit_errors <= 127u) {
        can->values[IR] |= can->kind->ep;
    }
    if (transmit_errors > 95u && can->transmit_errors <= 95u) {
        can->values[IR] |= can->kind->ew;
    }
    can->transmit_errors = transmit_errors;
    if (went_off) {
        can->values[IR] |= can->kind->bo;
        can->values[CCCR] |= CCCR_INIT;
        can->mode = FDCAN_INITIAL;
        can->mode_at = UINT64_MAX;
    }
}

static void follow_recovery(fdcan *can)
{
    if (can->recovering && can->mode != FDCAN_NORMAL) {
        can->recovering = false;
    }
    if (can->recovering) {
        recessive_see(&can->recessive, &can->wire->bus);
    }
}

static void finish_recovery(fdcan *can, uint64_t now)
{
    if (can->recovering && !can->wire->bus.sending &&
        recessive_done_at(&can->recessive, &can->wire->bus) <= now) {
        can->recovering = false;
        can->transmit_errors = 0;
        can->values[IR] |= can->kind->bo;
    }
}

static void change_mode(fdcan *can, uint64_t now)
{
    if (can->mode == FDCAN_JOINING && wire_idle_since(can->wire, can->listens_from) <= now) {
        can->mode = FDCAN_NORMAL;
        if (can->transmit_errors > 255u) {
            can->recovering = true;
            recessive_begin(&can->recessive, RECESSIVE_TO_RECOVER, &can->wire->bus, now);
        }
    } else if (can->mode_at <= now && !is_sending(can)) {
        can->mode = FDCAN_INITIAL;
        can->mode_at = UINT64_MAX;
    }
}

/* Without acknowledgement a frame is repeated without end; each attempt costs 8 until the node is
 * error-passive, then nothing (ISO 11898-1, fault confinement, from memory). */
static void send_in_vain(fdcan *can, unsigned best, uint64_t now)
{
    if (can->attempt_ends <= now) {
        can->attempt_ends = UINT64_MAX;
        can->transmit_errors += can->transmit_errors < 128u ? 8u : 0u;
    }
    if (best == FDCAN_MAX_BUFFERS) {
        can->attempt_ends = UINT64_MAX;
    } else if (can->attempt_ends == UINT64_MAX && fits_bus(can)) {
        const locum_frame frame = fdcan_buffer_frame(can, best);

        can->attempt_ends =
            now + wire_bits(can->wire, bus_model_frame_bits(&frame).nominal + ERROR_FRAME_BITS);
    }
}

void fdcan_advance(fdcan *can, uint64_t now)
{
    unsigned best;

    change_mode(can, now);
    follow_recovery(can);
    finish_recovery(can, now);
    best = fdcan_on_bus(can) ? first_waiting(can) : FDCAN_MAX_BUFFERS;
    if (can->alone) {
        send_in_vain(can, best, now);
        return;
    }
    for (unsigned i = 0; i < FDCAN_MAX_BUFFERS; i++) {
        if (i != best) {
            take_back(can, i);
        }
    }
    if (best != FDCAN_MAX_BUFFERS && !is_sending(can) && !can->buffers[best].on_wire &&
        fits_bus(can)) {
        const locum_frame frame = fdcan_buffer_frame(can, best);

        can->buffers[best].on_wire =
            bus_model_put(&can->wire->bus, &frame, best, can->buffers[best].requested_at);
    }
}

uint64_t fdcan_next(const fdcan *can)
{
    uint64_t next = can->attempt_ends;
    uint64_t at = UINT64_MAX;

    if (can->mode == FDCAN_JOINING) {
        at = wire_idle_since(can->wire, can->listens_from);
    } else if (!is_sending(can)) {
        at = can->mode_at; /* a frame that is being sent ends first */
    }
    next = at < next ? at : next;
    if (can->recovering && !can->wire->bus.sending) {
        at = recessive_done_at(&can->recessive, &can->wire->bus);
        next = at < next ? at : next;
    }
    return next;
}

bool fdcan_request_line(const fdcan *can, unsigned line)
{
    const uint32_t asked = can->values[IR] & can->values[IE];

    /* Groups of the newer kind are not told apart: all belong to line 0 until ILS says otherwise.
     */
    return (can->values[ILE] & (1u << line)) != 0u && line == (can->values[ILS] != 0u ? 1u : 0u) &&
           asked != 0u;
}
