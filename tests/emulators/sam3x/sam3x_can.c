#include "sam3x_can.h"

#include <string.h>

#include "report.h"

enum {
    MR = 0x00,
    IER = 0x04,
    IDR = 0x08,
    IMR = 0x0C,
    SR = 0x10,
    BR = 0x14,
    TIM = 0x18,
    ECR = 0x20
};
enum { MMR = 0x00, MAM = 0x04, MID = 0x08, MSR = 0x10, MDL = 0x14, MDH = 0x18, MCR = 0x1C };
enum { DISABLED, RECEIVE, OVERWRITE, TRANSMIT };

#define BOX_BASE 0x200u
#define BOX_SIZE 0x20u

#define ENABLE (1u << 0)
#define STAMP_END (1u << 4)
#define SR_ACTIVE (1u << 16)
#define SR_WARNING (1u << 17)
#define SR_PASSIVE (1u << 18)
#define SR_OFF (1u << 19)
#define SR_ASLEEP (1u << 20)
#define SR_AWAKE (1u << 21)
#define EXTENDED (1u << 29)
#define STANDARD_SHIFT 18u
#define STANDARD_BITS ((uint32_t)0x7FFu << STANDARD_SHIFT)
#define MCR_ABORT (1u << 22)
#define MCR_TRANSFER (1u << 23)
#define MSR_REMOTE (1u << 20)
#define NS_PER_SECOND 1000000000u

static unsigned type_of(const sam3x_box *box)
{
    return (box->mmr >> 24) & 7u;
}

static unsigned priority_of(const sam3x_box *box)
{
    return (box->mmr >> 16) & 0xFu;
}

static bool waits(const sam3x_box *box)
{
    return type_of(box) == TRANSMIT && !box->ready;
}

static void frame_in(const sam3x_box *box, locum_frame *frame)
{
    const uint32_t words[2] = {box->mdl, box->mdh};

    memset(frame, 0, sizeof *frame);
    frame->id = (box->mid & EXTENDED) != 0u ? (box->mid & ~EXTENDED) | LOCUM_ID_EXTENDED
                                            : (box->mid & STANDARD_BITS) >> STANDARD_SHIFT;
    frame->length = (uint8_t)(box->length < 8u ? box->length : 8u);
    memcpy(frame->data, words, frame->length);
}

static void drop(const sam3x_can *can, sam3x_box *box)
{
    locum_frame frame;

    frame_in(box, &frame);
    surroundings_print(can->bus, &frame, box->asked_at, NULL);
    box->ready = true;
}

/* ---- as the bus sees it ---- */

static int candidate(void *controller, locum_frame *frame, uint64_t *asked_at)
{
    const sam3x_can *can = controller;
    int best = -1;

    for (unsigned i = 0; i < SAM3X_BOXES; i++) {
        if (waits(&can->boxes[i]) &&
            (best < 0 || priority_of(&can->boxes[i]) < priority_of(&can->boxes[best]))) {
            best = (int)i;
        }
    }
    if (best >= 0) {
        frame_in(&can->boxes[best], frame);
        *asked_at = can->boxes[best].asked_at;
    }
    return best;
}

static void started(void *controller, int place)
{
    ((sam3x_can *)controller)->boxes[place].on_wire = true;
}

static void sent(void *controller, int place)
{
    sam3x_box *box = &((sam3x_can *)controller)->boxes[place];

    box->on_wire = false;
    box->ready = true;
}

static uint16_t timer_of(const sam3x_can *can)
{
    return (uint16_t)(the_board.around.now * the_board.around.buses[can->bus].wire.rate /
                      NS_PER_SECOND);
}

static bool accepts(const sam3x_box *box, uint32_t mid)
{
    /* Without MIDE in the mask only the base identifier is looked at. */
    const uint32_t mask = (box->mam & EXTENDED) != 0u ? box->mam : box->mam & STANDARD_BITS;

    return (type_of(box) == RECEIVE || type_of(box) == OVERWRITE) &&
           ((box->mid ^ mid) & mask) == 0u;
}

static void fill(const sam3x_can *can, sam3x_box *box, uint32_t mid, const locum_frame *frame)
{
    uint32_t words[2] = {0, 0};

    memcpy(words, frame->data, frame->length);
    box->mid = mid;
    box->mdl = words[0];
    box->mdh = words[1];
    box->length = frame->length;
    box->stamp = timer_of(can);
    box->ready = true;
}

static void heard(void *controller, const locum_frame *frame)
{
    sam3x_can *can = controller;
    const uint32_t mid = (frame->id & LOCUM_ID_EXTENDED) != 0u
                             ? (frame->id & ~LOCUM_ID_EXTENDED) | EXTENDED
                             : frame->id << STANDARD_SHIFT;
    sam3x_box *last = NULL;

    for (unsigned i = 0; i < SAM3X_BOXES; i++) {
        sam3x_box *box = &can->boxes[i];

        if (!accepts(box, mid)) {
            continue;
        }
        if (!box->ready) {
            fill(can, box, mid, frame);
            return;
        }
        last = box;
    }
    if (last != NULL) {
        last->ignored = true;
        if (type_of(last) == OVERWRITE) {
            fill(can, last, mid, frame);
        }
    }
}

static bool on_bus(const void *controller)
{
    const sam3x_can *can = controller;

    return can->joined && can->transmit_errors < 256u;
}

static unsigned awaits(const void *controller)
{
    const sam3x_can *can = controller;

    if (can->transmit_errors >= 256u) {
        return RECESSIVE_TO_RECOVER;
    }
    return (can->mr & ENABLE) != 0u && !can->joined ? RECESSIVE_TO_JOIN : 0u;
}

static double rate_of(const sam3x_can *can)
{
    const unsigned quanta =
        1u + ((can->br >> 8) & 7u) + 1u + ((can->br >> 4) & 7u) + 1u + (can->br & 7u) + 1u;

    return (double)can->master_hz / (((can->br >> 16) & 0x7Fu) + 1u) / quanta;
}

static bool may_join(const sam3x_can *can)
{
    const char name[] = {(char)('0' + can->bus), '\0'};

    if (((can->br >> 16) & 0x7Fu) == 0u) {
        report_fault(name, "a prescaler of 1 is not allowed");
        return false;
    }
    if (!can->wired) {
        report_fault(name, "the pins are not the controller's");
        return false;
    }
    return board_fits(can->bus, rate_of(can));
}

static void has_seen(void *controller, unsigned runs)
{
    sam3x_can *can = controller;

    if (runs == RECESSIVE_TO_RECOVER) {
        can->transmit_errors = 0;
    } else {
        can->joined = may_join(can);
    }
}

static void counts_errors(void *controller, unsigned transmit_errors)
{
    ((sam3x_can *)controller)->transmit_errors = transmit_errors;
}

static const station can_station = {candidate, started, sent,     heard,
                                    on_bus,    awaits,  has_seen, counts_errors};

void sam3x_can_attach(sam3x_can *can)
{
    surroundings_attach(&the_board.around, can->bus, &can_station, can);
}

void sam3x_can_reset(sam3x_can *can, unsigned bus)
{
    if (bus < the_board.around.count && can->joined) {
        for (unsigned i = 0; i < SAM3X_BOXES; i++) {
            if (waits(&can->boxes[i]) && !can->boxes[i].on_wire) {
                drop(can, &can->boxes[i]);
            }
        }
        surroundings_cut(&the_board.around, bus);
    }
    memset(can, 0, sizeof *can);
    can->bus = bus;
}

void sam3x_can_print_waiting(const sam3x_can *can)
{
    for (unsigned i = 0; i < SAM3X_BOXES; i++) {
        if (waits(&can->boxes[i])) {
            locum_frame frame;

            frame_in(&can->boxes[i], &frame);
            surroundings_print(can->bus, &frame, can->boxes[i].asked_at, NULL);
        }
    }
}

/* ---- as the program sees it ---- */

static uint32_t status(const sam3x_can *can)
{
    uint32_t sr = on_bus(can) ? SR_AWAKE : SR_ASLEEP;

    for (unsigned i = 0; i < SAM3X_BOXES; i++) {
        sr |= (uint32_t)(can->boxes[i].ready || can->boxes[i].aborted) << i;
    }
    if (can->transmit_errors >= 256u) {
        return sr | SR_OFF;
    }
    sr |= can->transmit_errors >= 96u ? SR_WARNING : 0u;
    return sr | (can->transmit_errors >= 128u ? SR_PASSIVE : SR_ACTIVE);
}

bool sam3x_can_requests(const sam3x_can *can)
{
    return (status(can) & can->imr) != 0u;
}

static uint32_t read_box(sam3x_can *can, unsigned number, uint32_t offset)
{
    sam3x_box *box = &can->boxes[number];
    uint32_t value;

    switch (offset) {
    case MMR:
        return box->mmr;
    case MAM:
        return box->mam;
    case MID:
        return box->mid;
    case MSR:
        value = box->stamp | box->length << 16 | (uint32_t)box->aborted << 22 |
                (uint32_t)box->ready << 23 | (uint32_t)box->ignored << 24;
        box->ignored = false;
        return value;
    case MDL:
        return box->mdl;
    case MDH:
        return box->mdh;
    default:
        report_fault("-", "mailbox register 0x%02X is not modelled", offset);
        return 0;
    }
}

uint32_t sam3x_can_read(sam3x_can *can, uint32_t offset)
{
    if (!can->clocked) {
        report_fault("-", "a controller without a clock is read");
        return 0;
    }
    if (offset >= BOX_BASE && offset < BOX_BASE + SAM3X_BOXES * BOX_SIZE) {
        return read_box(can, (offset - BOX_BASE) / BOX_SIZE, offset % BOX_SIZE);
    }
    switch (offset) {
    case MR:
        return can->mr;
    case IMR:
        return can->imr;
    case SR:
        return status(can);
    case BR:
        return can->br;
    case TIM:
        return timer_of(can);
    case ECR:
        return (can->transmit_errors & 0xFFu) << 16;
    default:
        report_fault("-", "controller register 0x%03X is not modelled", offset);
        return 0;
    }
}

static void set_mode(sam3x_can *can, sam3x_box *box, uint32_t value)
{
    const unsigned before = type_of(box);

    if (before == TRANSMIT && !box->ready) {
        if (box->on_wire) {
            report_fault("-", "a mailbox is changed while its frame is on the wire");
        }
        drop(can, box);
    }
    box->mmr = value;
    if (type_of(box) > TRANSMIT) {
        report_fault("-", "mailbox type %u is not modelled", type_of(box));
    }
    if (type_of(box) != before) {
        box->ready = type_of(box) == TRANSMIT;
        box->aborted = false;
        box->ignored = false;
    }
}

static void command(sam3x_can *can, sam3x_box *box, uint32_t value)
{
    if (type_of(box) != TRANSMIT) {
        box->ready = box->ready && (value & MCR_TRANSFER) == 0u;
        return;
    }
    if ((value & MSR_REMOTE) != 0u) {
        report_fault("-", "a remote frame");
    }
    if ((value & MCR_ABORT) != 0u && !box->ready && !box->on_wire) {
        drop(can, box);
        box->aborted = true;
    } else if ((value & MCR_TRANSFER) != 0u && box->ready) {
        box->length = (value >> 16) & 0xFu;
        box->ready = false;
        box->aborted = false;
        box->asked_at = the_board.around.now;
        board_counts_frame();
    }
}

static void write_box(sam3x_can *can, unsigned number, uint32_t offset, uint32_t value)
{
    sam3x_box *box = &can->boxes[number];

    if ((offset == MAM || offset == MID) && type_of(box) != DISABLED) {
        report_fault("-", "an identifier or mask is written while its mailbox is enabled");
    }
    switch (offset) {
    case MMR:
        set_mode(can, box, value);
        break;
    case MAM:
        box->mam = value;
        break;
    case MID:
        box->mid = value;
        break;
    case MDL:
        box->mdl = value;
        break;
    case MDH:
        box->mdh = value;
        break;
    case MCR:
        command(can, box, value);
        break;
    default:
        report_fault("-", "mailbox register 0x%02X is not modelled", offset);
        break;
    }
}

static void set_enable(sam3x_can *can, uint32_t value)
{
    if ((value & ~(ENABLE | STAMP_END)) != 0u) {
        report_fault("-", "a mode that is not modelled: 0x%08X", value);
    }
    if ((can->mr & ENABLE) != 0u && (value & ENABLE) == 0u) {
        surroundings_cut(&the_board.around, can->bus);
        can->joined = false;
        can->transmit_errors = 0;
    }
    can->mr = value;
}

void sam3x_can_write(sam3x_can *can, uint32_t offset, uint32_t value)
{
    if (!can->clocked) {
        return; /* nothing happens */
    }
    if (offset >= BOX_BASE && offset < BOX_BASE + SAM3X_BOXES * BOX_SIZE) {
        write_box(can, (offset - BOX_BASE) / BOX_SIZE, offset % BOX_SIZE, value);
        return;
    }
    switch (offset) {
    case MR:
        set_enable(can, value);
        break;
    case IER:
        can->imr |= value;
        break;
    case IDR:
        can->imr &= ~value;
        break;
    case BR:
        if ((can->mr & ENABLE) != 0u) {
            report_fault("-", "the bit timing is changed while the controller is enabled");
        }
        can->br = value;
        break;
    default:
        report_fault("-", "controller register 0x%03X is not modelled", offset);
        break;
    }
}
