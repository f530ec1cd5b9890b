#include "flexcan.h"

#include <string.h>

#include "report.h"

#define NS_PER_SECOND 1000000000u

enum {
    MCR = 0x000,
    CTRL1 = 0x004,
    TIMER = 0x008,
    ECR = 0x01C,
    ESR1 = 0x020,
    IMASK1 = 0x028,
    IFLAG1 = 0x030,
    CTRL2 = 0x034,
    CBT = 0x050,
    RAM = 0x080,
    RXIMR = 0x880,
    FDCTRL = 0xC00,
    FDCBT = 0xC04
};

#define MDIS (1u << 31)
#define FRZ (1u << 30)
#define RFEN (1u << 29)
#define HALT (1u << 28)
#define NOTRDY (1u << 27)
#define SOFTRST (1u << 25)
#define FRZACK (1u << 24)
#define LPMACK (1u << 20)
#define SRXDIS (1u << 17)
#define IRMQ (1u << 16)
#define LPRIOEN (1u << 13)
#define AEN (1u << 12)
#define FDEN (1u << 11)
#define BOFFMSK (1u << 15)
#define BOFFREC (1u << 6)
#define LBUF (1u << 4)
#define CTRL1_ANYTIME (BOFFMSK | 1u << 14 | 1u << 11 | 1u << 10 | BOFFREC)
#define ISOCANFDEN (1u << 12)

#define CODE(word) ((word) >> 24 & 0xFu)
#define CODE_MASK (0xFu << 24)
#define IDE (1u << 21)
#define EDL (1u << 31)
#define BRS (1u << 30)
#define RTR (1u << 20)
enum { EMPTY = 4, FULL = 2, OVERRUN = 6, TX_INACTIVE = 8, TX_ABORT = 9, TX_DATA = 12 };

static const uint8_t lengths[16] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64};

static const char *name_of(const flexcan *can)
{
    static const char *const names[] = {"0", "1", "2", "3"};

    return can->bus < 0 ? "-" : names[can->bus];
}

static bool is_fd(const flexcan *can)
{
    return (can->mcr & FDEN) != 0u;
}

static bool is_frozen(const flexcan *can)
{
    return (can->mcr & MDIS) == 0u && (can->mcr & (FRZ | HALT)) == (FRZ | HALT);
}

static unsigned box_words(const flexcan *can)
{
    return is_fd(can) ? 18u : 4u;
}

static unsigned box_count(const flexcan *can)
{
    const unsigned most = is_fd(can) ? 14u : FLEXCAN_BOXES;
    const unsigned wanted = (can->mcr & 0x7Fu) + 1u;

    return wanted < most ? wanted : most;
}

/* Of a mailbox's control word. */
static unsigned place_of(const flexcan *can, unsigned box)
{
    return is_fd(can) ? box / 7u * 128u + box % 7u * 18u : 4u * box;
}

static uint32_t *words_of(flexcan *can, unsigned box)
{
    return &can->ram[place_of(can, box)];
}

static void read_frame(flexcan *can, unsigned box)
{
    const uint32_t *words = words_of(can, box);
    locum_frame *frame = &can->boxes[box].frame;

    memset(frame, 0, sizeof *frame);
    frame->id = (words[0] & IDE) != 0u ? (words[1] & 0x1FFFFFFFu) | LOCUM_ID_EXTENDED
                                       : words[1] >> 18 & 0x7FFu;
    frame->length = lengths[words[0] >> 16 & 0xFu];
    if ((words[0] & EDL) != 0u) {
        frame->id |= LOCUM_ID_FD | ((words[0] & BRS) != 0u ? LOCUM_ID_SWITCH_RATE : 0u);
        if (!is_fd(can)) {
            report_fault(name_of(can), "a CAN FD frame in classic mode");
        }
    } else if (frame->length > 8u) {
        frame->length = 8;
    }
    if ((words[0] & RTR) != 0u) {
        report_fault(name_of(can), "a remote frame");
    }
    for (unsigned i = 0; i < frame->length; i++) {
        frame->data[i] = (uint8_t)(words[2u + i / 4u] >> (24u - 8u * (i % 4u)));
    }
}

static void set_code(flexcan *can, unsigned box, unsigned code)
{
    uint32_t *words = words_of(can, box);

    words[0] = (words[0] & ~CODE_MASK) | (uint32_t)code << 24;
}

static void abort_box(flexcan *can, unsigned box)
{
    surroundings_print((unsigned)can->bus, &can->boxes[box].frame, can->boxes[box].asked_at, NULL);
    can->boxes[box].waits = false;
    can->boxes[box].aborts = false;
    set_code(can, box, TX_ABORT);
    can->iflag |= 1u << box;
}

/* ---- as the bus sees it ---- */

static uint32_t order_of(uint32_t id)
{
    const uint32_t bits = id & 0x1FFFFFFFu;

    return (id & LOCUM_ID_EXTENDED) == 0u ? bits << 20
                                          : (bits >> 18) << 20 | 3u << 18 | (bits & 0x3FFFFu);
}

static int candidate(void *owner, locum_frame *frame, uint64_t *asked_at)
{
    const flexcan *can = owner;
    int best = -1;

    for (int i = 0; i < (int)box_count(can); i++) {
        const flexcan_box *box = &can->boxes[i];

        if (box->waits && !box->aborts &&
            (best < 0 || order_of(box->frame.id) < order_of(can->boxes[best].frame.id))) {
            best = i;
        }
    }
    if (best >= 0) {
        *frame = can->boxes[best].frame;
        *asked_at = can->boxes[best].asked_at;
    }
    return best;
}

static void started(void *owner, int place)
{
    ((flexcan *)owner)->boxes[place].on_wire = true;
}

static void sent(void *owner, int place)
{
    flexcan *can = owner;
    flexcan_box *box = &can->boxes[place];

    box->on_wire = false;
    box->waits = false;
    box->aborts = false;
    set_code(can, (unsigned)place, TX_INACTIVE);
    can->iflag |= 1u << place;
}

static uint16_t timer_of(const flexcan *can)
{
    return can->bus < 0 ? 0u
                        : (uint16_t)(the_board.around.now *
                                     the_board.around.buses[can->bus].wire.rate / NS_PER_SECOND);
}

static bool accepts(flexcan *can, unsigned box, const locum_frame *frame)
{
    const bool extended = (frame->id & LOCUM_ID_EXTENDED) != 0u;
    const uint32_t id = extended ? frame->id & 0x1FFFFFFFu : (frame->id & 0x7FFu) << 18;
    const uint32_t *words = words_of(can, box);
    const unsigned code = CODE(words[0]);

    /* The kind of identifier is always compared (EACEN 0). */
    return (code == EMPTY || code == FULL || code == OVERRUN) &&
           ((words[0] & IDE) != 0u) == extended &&
           ((words[1] ^ id) & can->rximr[box] & 0x1FFFFFFFu) == 0u;
}

static void fill(flexcan *can, unsigned box, const locum_frame *frame, unsigned code)
{
    const bool extended = (frame->id & LOCUM_ID_EXTENDED) != 0u;
    uint32_t *words = words_of(can, box);
    unsigned dlc = 0;

    while (lengths[dlc] < frame->length) {
        dlc++;
    }
    if (frame->length > 4u * (box_words(can) - 2u)) {
        report_fault(name_of(can), "a frame that is longer than its mailbox");
        return;
    }
    words[0] = (uint32_t)code << 24 | (extended ? 3u << 21 : 0u) | dlc << 16 | timer_of(can) |
               ((frame->id & LOCUM_ID_FD) != 0u ? EDL : 0u) |
               ((frame->id & LOCUM_ID_SWITCH_RATE) != 0u ? BRS : 0u);
    words[1] = extended ? frame->id & 0x1FFFFFFFu : (frame->id & 0x7FFu) << 18;
    memset(&words[2], 0, 4u * (box_words(can) - 2u));
    for (unsigned i = 0; i < frame->length; i++) {
        words[2u + i / 4u] |= (uint32_t)frame->data[i] << (24u - 8u * (i % 4u));
    }
    can->boxes[box].served = false;
    can->iflag |= 1u << box;
}

static void heard(void *owner, const locum_frame *frame)
{
    flexcan *can = owner;
    int last = -1;

    for (unsigned i = 0; i < box_count(can); i++) {
        if (!accepts(can, i, frame)) {
            continue;
        }
        if (CODE(words_of(can, i)[0]) == EMPTY || can->boxes[i].served) {
            fill(can, i, frame, FULL);
            return;
        }
        last = (int)i;
    }
    if (last >= 0) {
        fill(can, (unsigned)last, frame, OVERRUN);
    }
}

static bool on_bus(const void *owner)
{
    const flexcan *can = owner;

    return can->joined && can->transmit_errors < 256u;
}

static unsigned awaits(const void *owner)
{
    const flexcan *can = owner;

    if (can->transmit_errors >= 256u) {
        return (can->ctrl1 & BOFFREC) == 0u ? RECESSIVE_TO_RECOVER : 0u;
    }
    return !can->joined && (can->mcr & (MDIS | HALT)) == 0u ? RECESSIVE_TO_JOIN : 0u;
}

static bool near(double made, double wanted)
{
    return made > wanted * 0.995 && made < wanted * 1.005;
}

static bool fits(const flexcan *can)
{
    const bus_model *wire = &the_board.around.buses[can->bus].wire;
    const double hz = can->clock_hz;
    double rate = hz / ((can->ctrl1 >> 24) + 1u) /
                  (4u + (can->ctrl1 >> 19 & 7u) + (can->ctrl1 >> 16 & 7u) + (can->ctrl1 & 7u));
    double data_rate;
    uint32_t offset;

    if ((can->cbt & 1u << 31) != 0u) {
        rate = hz / ((can->cbt >> 21 & 0x3FFu) + 1u) /
               (4u + (can->cbt >> 10 & 0x3Fu) + (can->cbt >> 5 & 0x1Fu) + (can->cbt & 0x1Fu));
    }
    if (!can->wired) {
        report_fault(name_of(can), "the pins are not the controller's");
        return false;
    }
    if (!near(rate, wire->rate)) {
        report_fault(name_of(can), "bit rate %.0f is not %u", rate, (unsigned)wire->rate);
        return false;
    }
    if (wire->data_rate == wire->rate) {
        return true;
    }
    data_rate = hz / ((can->fdcbt >> 20 & 0x3FFu) + 1u) /
                (3u + (can->fdcbt >> 10 & 0x1Fu) + (can->fdcbt >> 5 & 7u) + (can->fdcbt & 7u));
    offset = can->fdctrl >> 8 & 0x1Fu;
    if (!is_fd(can) || (can->fdctrl & 1u << 31) == 0u || (can->ctrl2 & ISOCANFDEN) == 0u) {
        report_fault(name_of(can), "CAN FD, or its switch of the rate, is off");
        return false;
    }
    if (!near(data_rate, wire->data_rate)) {
        report_fault(name_of(can), "data bit rate %.0f is not %u", data_rate,
                     (unsigned)wire->data_rate);
        return false;
    }
    if (wire->data_rate > 1000000u &&
        ((can->fdctrl & 1u << 15) == 0u || offset == 0u || offset > hz / wire->data_rate)) {
        report_fault(name_of(can), "delay compensation is off, or its offset outside the bit");
        return false;
    }
    return true;
}

static void has_seen(void *owner, unsigned runs)
{
    flexcan *can = owner;

    if (runs == RECESSIVE_TO_RECOVER) {
        can->transmit_errors = 0;
    } else {
        can->joined = fits(can);
    }
}

static void counts_errors(void *owner, unsigned transmit_errors)
{
    flexcan *can = owner;

    if (transmit_errors >= 256u && can->transmit_errors < 256u) {
        can->off_flag = true;
    }
    can->transmit_errors = transmit_errors;
}

static const station can_station = {candidate, started, sent,     heard,
                                    on_bus,    awaits,  has_seen, counts_errors};

void flexcan_attach(flexcan *can, unsigned bus)
{
    can->bus = (int)bus;
    surroundings_attach(&the_board.around, bus, &can_station, can);
}

static void forget(flexcan *can)
{
    for (unsigned i = 0; i < FLEXCAN_BOXES && can->bus >= 0; i++) {
        if (can->boxes[i].on_wire) {
            surroundings_cut(&the_board.around, (unsigned)can->bus);
        } else if (can->boxes[i].waits) {
            surroundings_print((unsigned)can->bus, &can->boxes[i].frame, can->boxes[i].asked_at,
                               NULL);
        }
    }
    memset(can->boxes, 0, sizeof can->boxes);
}

void flexcan_reset(flexcan *can, unsigned number)
{
    const int bus = can->bus;
    const bool able = number == 2u;

    forget(can);
    memset(can, 0, sizeof *can);
    can->number = number;
    can->able = able;
    can->bus = bus;
    can->mcr = 0xD890000Fu;
    memset(can->ram, 0xA5, sizeof can->ram);
}

static void soft_reset(flexcan *can)
{
    forget(can);
    can->mcr = 0x5980000Fu;
    can->imask = 0;
    can->iflag = 0;
    can->ctrl2 = 0;
    can->joined = false;
    can->transmit_errors = 0;
    can->off_flag = false;
}

void flexcan_print_waiting(const flexcan *can)
{
    for (unsigned i = 0; i < FLEXCAN_BOXES; i++) {
        if (can->boxes[i].waits) {
            surroundings_print((unsigned)can->bus, &can->boxes[i].frame, can->boxes[i].asked_at,
                               NULL);
        }
    }
}

/* ---- as the program sees it ---- */

bool flexcan_requests(const flexcan *can)
{
    return (can->iflag & can->imask) != 0u || (can->off_flag && (can->ctrl1 & BOFFMSK) != 0u);
}

static uint32_t status(const flexcan *can)
{
    const unsigned errors = can->transmit_errors;

    return (can->off_flag ? 1u << 2 : 0u) |
           (errors >= 256u   ? 2u << 4
            : errors >= 128u ? 1u << 4
                             : 0u) |
           (on_bus(can) ? 1u << 18 : 0u);
}

static uint32_t mode(const flexcan *can)
{
    return (can->mcr & ~(NOTRDY | FRZACK | LPMACK | SOFTRST)) |
           ((can->mcr & MDIS) != 0u ? LPMACK | NOTRDY : 0u) |
           (is_frozen(can) ? FRZACK | NOTRDY : 0u);
}

uint32_t flexcan_read(flexcan *can, uint32_t offset)
{
    if (!can->clocked) {
        report_fault("-", "a controller without a clock is read");
        return 0;
    }
    if (offset >= RAM && offset < RAM + FLEXCAN_RAM) {
        return can->ram[(offset - RAM) / 4u];
    }
    if (offset >= RXIMR && offset < RXIMR + 4u * FLEXCAN_BOXES) {
        return can->rximr[(offset - RXIMR) / 4u];
    }
    switch (offset) {
    case MCR:
        return mode(can);
    case CTRL1:
        return can->ctrl1;
    case TIMER:
        return timer_of(can);
    case ECR:
        return can->transmit_errors & 0xFFu;
    case ESR1:
        return status(can);
    case IMASK1:
        return can->imask;
    case IFLAG1:
        return can->iflag;
    case CTRL2:
        return can->ctrl2;
    case CBT:
        return can->cbt;
    case FDCTRL:
        return can->fdctrl;
    case FDCBT:
        return can->fdcbt;
    default:
        report_fault("-", "controller register 0x%03X is not modelled", offset);
        return 0;
    }
}

static void write_mode(flexcan *can, uint32_t value)
{
    if ((value & SOFTRST) != 0u) {
        soft_reset(can);
        return;
    }
    if ((value & (RFEN | LPRIOEN)) != 0u) {
        report_fault("-", "the receive FIFO, or local priorities");
    }
    if ((value & FDEN) != 0u && !can->able) {
        report_fault(name_of(can), "CAN FD on a classic controller");
    }
    can->mcr = value & ~(NOTRDY | FRZACK | LPMACK);
    if ((can->mcr & (MDIS | HALT)) != 0u) {
        can->joined = false;
    } else if ((can->mcr & (IRMQ | SRXDIS)) != (IRMQ | SRXDIS)) {
        report_fault(name_of(can), "no masks of their own, or own frames are received");
    }
}

/* Registers that only a frozen controller lets change. */
static void configure(flexcan *can, uint32_t *place, uint32_t value)
{
    if (!is_frozen(can)) {
        report_fault("-", "a setting is written while the controller is not frozen");
        return;
    }
    *place = value;
}

static void write_control_word(flexcan *can, unsigned box, uint32_t value)
{
    flexcan_box *own = &can->boxes[box];
    const unsigned code = CODE(value);

    if (own->waits && code != TX_ABORT) {
        report_fault(name_of(can), "a mailbox is changed while it waits");
    }
    *words_of(can, box) = value;
    if (box == 0u && code == TX_INACTIVE) {
        can->inactive_writes++;
    }
    switch (code) {
    case TX_DATA:
        if (can->asked && can->inactive_writes < 2u) {
            report_fault(name_of(can), "the first mailbox is to be made inactive twice");
        }
        can->asked = true;
        can->inactive_writes = 0;
        if (box == 0u) {
            report_fault(name_of(can), "the first mailbox is not to be used");
        }
        read_frame(can, box);
        own->waits = true;
        own->asked_at = the_board.around.now;
        board_counts_frame();
        break;
    case TX_ABORT:
        if ((can->mcr & AEN) == 0u) {
            report_fault(name_of(can), "an abort without AEN");
        }
        if (own->waits) {
            own->aborts = true;
            if (!own->on_wire) {
                abort_box(can, box);
            }
        }
        break;
    default:
        break;
    }
}

static void write_ram(flexcan *can, uint32_t offset, uint32_t value)
{
    const unsigned word = offset / 4u;

    for (unsigned box = 0; box < box_count(can); box++) {
        if (word == place_of(can, box)) {
            write_control_word(can, box, value);
            return;
        }
        if (word > place_of(can, box) && word < place_of(can, box) + box_words(can) &&
            can->boxes[box].waits) {
            report_fault(name_of(can), "a mailbox is changed while it waits");
        }
    }
    can->ram[word] = value;
}

void flexcan_write(flexcan *can, uint32_t offset, uint32_t value)
{
    if (!can->clocked) {
        return; /* nothing happens */
    }
    if (offset >= RAM && offset < RAM + FLEXCAN_RAM) {
        write_ram(can, offset - RAM, value);
        return;
    }
    if (offset >= RXIMR && offset < RXIMR + 4u * FLEXCAN_BOXES) {
        configure(can, &can->rximr[(offset - RXIMR) / 4u], value);
        return;
    }
    switch (offset) {
    case MCR:
        write_mode(can, value);
        break;
    case CTRL1:
        if (!is_frozen(can) && ((can->ctrl1 ^ value) & ~CTRL1_ANYTIME) != 0u) {
            report_fault("-", "the bit timing is written while the controller is not frozen");
        }
        if ((value & LBUF) != 0u) {
            report_fault("-", "the lowest mailbox first");
        }
        can->ctrl1 = value;
        break;
    case ESR1:
        can->off_flag = can->off_flag && (value & 1u << 2) == 0u;
        break;
    case IMASK1:
        can->imask = value;
        break;
    case IFLAG1:
        for (unsigned i = 0; i < 32u; i++) {
            if ((value & can->iflag & 1u << i) != 0u) {
                can->boxes[i].served = true;
            }
        }
        can->iflag &= ~value;
        break;
    case CTRL2:
        configure(can, &can->ctrl2, value);
        break;
    case CBT:
        configure(can, &can->cbt, value);
        break;
    case FDCTRL:
        configure(can, &can->fdctrl, value);
        if ((value & 0x1B0000u) != 0x1B0000u) {
            report_fault("-", "mailboxes of other than 64 bytes are not modelled");
        }
        break;
    case FDCBT:
        configure(can, &can->fdcbt, value);
        break;
    default:
        report_fault("-", "controller register 0x%03X is not modelled", offset);
        break;
    }
}
