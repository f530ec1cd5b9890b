#include "bxcan.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "bxcan_map.h"
#include "bxcan_send.h"
#include "report.h"

#define HANDSHAKE_NS 500u
#define MOST_BYTES 8u
#define ERROR_FRAME_BITS 17u /* flag, delimiter, intermission, less the rest of the frame */

void bxcan_init(bxcan *can, unsigned index, bxcan_filters *filters, wire *wire,
                const bxcan_board *board)
{
    memset(can, 0, sizeof *can);
    can->receiver.index = index;
    can->receiver.filters = filters;
    can->wire = wire;
    can->board = *board;
    bxcan_reset(can, 0);
}

static void take_back(bxcan *can, unsigned index)
{
    if (can->mailboxes[index].on_wire && bus_model_take_back(&can->wire->bus, index)) {
        can->mailboxes[index].on_wire = false;
    }
}

static bool is_sending(const bxcan *can)
{
    return can->wire->bus.sending && can->wire->bus.current.entry.tag < BXCAN_MAILBOXES;
}

void bxcan_reset(bxcan *can, uint64_t now)
{
    if (is_sending(can)) {
        wire_cut(can->wire, now);
    }
    bxcan_print_waiting(can);
    for (unsigned i = 0; i < BXCAN_MAILBOXES; i++) {
        take_back(can, i);
        can->mailboxes[i] = (bxcan_mailbox){0};
    }
    can->mode = BXCAN_ASLEEP;
    can->mode_at = UINT64_MAX;
    can->mcr = MCR_AT_RESET;
    can->tsr = 0;
    can->ier = 0;
    can->btr = BTR_AT_RESET;
    bxcan_receiver_reset(&can->receiver);
    can->transmit_errors = 0;
    can->error_flag = false;
    can->recovering = false;
    can->attempt_ends = UINT64_MAX;
}

bool bxcan_is_empty(const bxcan_mailbox *box)
{
    return (box->tir & TIR_TXRQ) == 0u;
}

static locum_frame frame_of(const bxcan *can, const bxcan_mailbox *box)
{
    locum_frame frame = {.bus = (uint8_t)can->receiver.index};

    frame.id = (box->tir & TIR_IDE) != 0u ? (box->tir >> 3) | LOCUM_ID_EXTENDED : box->tir >> 21;
    frame.length = (uint8_t)(box->tdtr & 0xFu);
    if (frame.length > MOST_BYTES) {
        frame.length = MOST_BYTES;
    }
    for (unsigned i = 0; i < MOST_BYTES; i++) {
        frame.data[i] = (uint8_t)((i < 4u ? box->tdlr : box->tdhr) >> (8u * (i % 4u)));
    }
    return frame;
}

/* A frame that was never sent to its end. */
static void print_waiting(const bxcan *can, const bxcan_mailbox *box)
{
    const locum_frame frame = frame_of(can, box);
    char accepted[32];

    snprintf(accepted, sizeof accepted, "%" PRIu64 ".%03u", box->requested_at / 1000u,
             (unsigned)(box->requested_at % 1000u));
    script_print_frame(&frame, accepted, "-", "-");
}

void bxcan_print_waiting(const bxcan *can)
{
    for (unsigned i = 0; i < BXCAN_MAILBOXES; i++) {
        if (!bxcan_is_empty(&can->mailboxes[i])) {
            print_waiting(can, &can->mailboxes[i]);
        }
    }
}

/* By identifier, then by number; with TXFP by order of request. */
static bool goes_first(const bxcan *can, unsigned a, unsigned b)
{
    const uint32_t a_id = frame_of(can, &can->mailboxes[a]).id;
    const uint32_t b_id = frame_of(can, &can->mailboxes[b]).id;

    if ((can->mcr & MCR_TXFP) != 0u) {
        return can->mailboxes[a].order < can->mailboxes[b].order;
    }
    return a_id != b_id ? bus_model_wins(a_id, b_id) : a < b;
}

/* The waiting mailbox that goes first, or last. BXCAN_MAILBOXES: none waits. */
static unsigned find(const bxcan *can, bool first)
{
    unsigned found = BXCAN_MAILBOXES;

    for (unsigned i = 0; i < BXCAN_MAILBOXES; i++) {
        if (!bxcan_is_empty(&can->mailboxes[i]) &&
            (found == BXCAN_MAILBOXES || goes_first(can, i, found) == first)) {
            found = i;
        }
    }
    return found;
}

unsigned bxcan_lowest(const bxcan *can)
{
    const unsigned found = find(can, false);

    return found == BXCAN_MAILBOXES ? 0u : found;
}

/* Whether what the program set up fits the bus; reports what does not. */
static bool fits_bus(const bxcan *can)
{
    const uint32_t quanta = 3u + ((can->btr >> 16) & 0xFu) + ((can->btr >> 20) & 7u);
    const double rate = (double)can->board.clock_hz(can->board.owner) /
                        (double)((can->btr & 0x3FFu) + 1u) / (double)quanta;
    const double wanted = (double)can->wire->bus.rate;
    bool fits = can->board.check_pins(can->board.owner, can->receiver.index);

    if (rate < wanted * 0.995 || rate > wanted * 1.005) {
        report_fault("0", "bit rate %.0f is not %.0f", rate, wanted);
        fits = false;
    }
    if ((can->btr & BTR_TEST_MODES) != 0u) {
        report_fault("0", "the controller is in a test mode");
        fits = false;
    }
    return fits;
}

void bxcan_request(bxcan *can, unsigned index, uint64_t now)
{
    bxcan_mailbox *box = &can->mailboxes[index];

    box->requested_at = now;
    box->order = can->requests++;
    if ((box->tir & TIR_RTR) != 0u) {
        report_fault("0", "a remote frame was requested");
    }
    (void)fits_bus(can);
    can->board.requested(can->board.owner);
}

static void complete(bxcan *can, unsigned index, uint32_t flags)
{
    can->mailboxes[index].tir &= ~TIR_TXRQ;
    can->mailboxes[index].on_wire = false;
    can->tsr |= flags << (8u * index);
}

void bxcan_abort(bxcan *can, unsigned index)
{
    take_back(can, index);
    if (!bxcan_is_empty(&can->mailboxes[index]) && !can->mailboxes[index].on_wire) {
        print_waiting(can, &can->mailboxes[index]);
        complete(can, index, TSR_RQCP);
    }
}

void bxcan_sent(bxcan *can, uint32_t tag)
{
    complete(can, tag, TSR_RQCP | TSR_TXOK);
}

void bxcan_hear(bxcan *can, const locum_frame *frame)
{
    /* At another rate it would be noise. */
    if (bxcan_on_bus(can) && fits_bus(can)) {
        bxcan_receiver_hear(&can->receiver, frame, (can->mcr & MCR_RFLM) != 0u);
    }
}

void bxcan_ask_mode(bxcan *can, uint64_t now)
{
    const bool to_normal = (can->mcr & (MCR_INRQ | MCR_SLEEP)) == 0u;

    if (to_normal && can->mode != BXCAN_NORMAL) {
        can->mode = BXCAN_JOINING;
    }
    can->mode_at = to_normal ? now : now + HANDSHAKE_NS;
}

bool bxcan_on_bus(const bxcan *can)
{
    return can->mode == BXCAN_NORMAL && can->transmit_errors < 256u;
}

static void recover(bxcan *can, uint64_t now)
{
    can->recovering = true;
    recessive_begin(&can->recessive, RECESSIVE_TO_RECOVER, &can->wire->bus, now);
}

/* ERRI: "set by hardware when a bit of the CAN_ESR has been set on error detection" and its
 * interrupt is enabled (from memory). Only bus-off is modelled. */
void bxcan_count_errors(bxcan *can, uint32_t transmit_errors, uint64_t now)
{
    const bool went_off = transmit_errors > 255u && can->transmit_errors <= 255u;

    can->transmit_errors = transmit_errors;
    if (!went_off) {
        return;
    }
    can->error_flag =
        can->error_flag || ((can->ier & IER_BOFIE) != 0u && (can->ier & IER_ERRIE) != 0u);
    if ((can->mcr & MCR_ABOM) != 0u) {
        recover(can, now);
    }
}

/* With ABOM the count begins at once, otherwise when the program has been through initialisation.
 */
static void follow_recovery(bxcan *can, uint64_t now)
{
    if (!can->recovering) {
        return;
    }
    if (can->mode != BXCAN_NORMAL) {
        can->recovering = false; /* the receive pin is not watched */
        return;
    }
    recessive_see(&can->recessive, &can->wire->bus);
    if (!can->wire->bus.sending && recessive_done_at(&can->recessive, &can->wire->bus) <= now) {
        can->recovering = false;
        can->transmit_errors = 0;
    }
}

static void change_mode(bxcan *can, uint64_t now)
{
    if ((can->mcr & (MCR_INRQ | MCR_SLEEP)) == 0u) {
        if (can->mode == BXCAN_JOINING && wire_idle_since(can->wire, can->mode_at) <= now) {
            can->mode = BXCAN_NORMAL;
            if (can->transmit_errors > 255u) {
                recover(can, now);
            }
        }
    } else if (can->mode_at <= now && !is_sending(can)) {
        can->mode = (can->mcr & MCR_SLEEP) != 0u ? BXCAN_ASLEEP : BXCAN_INITIAL;
        can->mode_at = UINT64_MAX;
    }
}

/*
 * Without acknowledgement a frame is repeated without end; each attempt costs 8 until the node is
 * error-passive, then nothing (ISO 11898-1, fault confinement, from memory).
 */
static void send_in_vain(bxcan *can, unsigned best, uint64_t now)
{
    if (can->attempt_ends <= now) {
        can->attempt_ends = UINT64_MAX;
        can->transmit_errors += can->transmit_errors < 128u ? 8u : 0u;
    }
    if (best == BXCAN_MAILBOXES) {
        can->attempt_ends = UINT64_MAX;
    } else if (can->attempt_ends == UINT64_MAX && fits_bus(can)) {
        const locum_frame frame = frame_of(can, &can->mailboxes[best]);

        can->attempt_ends =
            now + wire_bits(can->wire, bus_model_frame_bits(&frame).nominal + ERROR_FRAME_BITS);
    }
}

void bxcan_advance(bxcan *can, uint64_t now)
{
    unsigned best;

    bxcan_receiver_advance(&can->receiver, now);
    change_mode(can, now);
    follow_recovery(can, now);
    best = bxcan_on_bus(can) ? find(can, true) : BXCAN_MAILBOXES;
    if (can->alone) {
        send_in_vain(can, best, now);
        return;
    }
    for (unsigned i = 0; i < BXCAN_MAILBOXES; i++) {
        if (i != best) {
            take_back(can, i);
        }
    }
    if (best != BXCAN_MAILBOXES && !is_sending(can) && !can->mailboxes[best].on_wire &&
        fits_bus(can)) {
        const locum_frame frame = frame_of(can, &can->mailboxes[best]);

        can->mailboxes[best].on_wire =
            bus_model_put(&can->wire->bus, &frame, best, can->mailboxes[best].requested_at);
    }
}

static uint64_t next_of_modes(const bxcan *can)
{
    if ((can->mcr & (MCR_INRQ | MCR_SLEEP)) == 0u) {
        return can->mode == BXCAN_JOINING ? wire_idle_since(can->wire, can->mode_at)
                                          : can->attempt_ends;
    }
    /* A frame that is being sent ends first; that is an event of the wire. */
    return is_sending(can) ? UINT64_MAX : can->mode_at;
}

uint64_t bxcan_next(const bxcan *can)
{
    const uint64_t modes = next_of_modes(can);
    const uint64_t releases = bxcan_receiver_next(&can->receiver);
    uint64_t next = modes < releases ? modes : releases;

    if (can->recovering && !can->wire->bus.sending &&
        recessive_done_at(&can->recessive, &can->wire->bus) < next) {
        next = recessive_done_at(&can->recessive, &can->wire->bus);
    }
    return next;
}

bool bxcan_error_request(const bxcan *can)
{
    return (can->ier & IER_ERRIE) != 0u && can->error_flag;
}

bool bxcan_receive_request(const bxcan *can, unsigned fifo)
{
    return bxcan_fifo_request(&can->receiver.fifos[fifo], can->ier >> (IER_FIFO_SHIFT + 3u * fifo));
}

bool bxcan_transmit_request(const bxcan *can)
{
    const uint32_t completed = TSR_RQCP | (TSR_RQCP << 8) | (TSR_RQCP << 16);

    return (can->ier & IER_TMEIE) != 0u && (can->tsr & completed) != 0u;
}
