/*
 * The controllers' transmit mailboxes. Of several the one with the lowest priority number goes
 * first, whatever its identifier: so each frame gets a number between those of its neighbours in
 * the order of arbitration.
 */
#include "board_parts.h"

#include <string.h>

#define PRIORITIES 16
#define FIRST_PRIORITY 8 /* for the first frame of an empty controller: room on both sides */

#if LOCUM_GUARD_BUS_OFF
#define ERROR_EVENTS CAN_SR_OFF
#else
#define ERROR_EVENTS 0u
#endif

typedef struct {
    uint32_t ids[SEND_BOXES]; /* with the marks of locum_frame.h */
    uint8_t priorities[SEND_BOXES];
} sent_frames;

static sent_frames sent[BOARD_BUS_COUNT];

#define SETTING(bus, br) (br),
static const uint32_t bit_timings[] = {BOARD_BUSES(SETTING)};

void can_configure(uint8_t bus)
{
    CAN_BR(bus) = bit_timings[bus];
    for (uint32_t box = 0; box < SEND_BOXES; box++) {
        CAN_MMR(bus, box) = CAN_MMR_DISABLED; /* forgets what it held */
        CAN_MMR(bus, box) = CAN_MMR_TRANSMIT;
    }
#if LOCUM_LISTENS
    can_receive_start(bus);
#endif
    CAN_IER(bus) = CAN_RECEIVE_EVENTS | ERROR_EVENTS;
}

void can_join(uint8_t bus)
{
    CAN_MR(bus) = CAN_MR_ENABLE | CAN_MR_STAMP_END;
}

void can_leave(uint8_t bus)
{
    CAN_MR(bus) = 0;
}

void can_start(void)
{
    /* CANTX0 PA0, CANRX0 PA1; CANTX1 PB14, CANRX1 PB15: peripheral A. */
    static const uint32_t ports[] = {PIO_A, PIO_B};
    static const uint32_t pins[] = {3u << 0, 3u << 14};

    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        PMC_PCER1 = 1u << (ID_CAN0 + bus - 32u);
        PIO_ABSR(ports[bus]) &= ~pins[bus];
        PIO_PUER(ports[bus]) = pins[bus]; /* recessive without a transceiver */
        PIO_PDR(ports[bus]) = pins[bus];
        can_leave(bus);
        can_configure(bus);
        if (CAN_BR(bus) != bit_timings[bus]) {
            board_stop(STOP_NO_CONTROLLER);
        }
        can_join(bus);
        NVIC_ISER(ID_CAN0) = NVIC_BIT(ID_CAN0 + bus);
    }
}

bool can_is_on_bus(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if ((CAN_SR(bus) & CAN_SR_AWAKE) == 0u) {
            return false;
        }
    }
    return true;
}

bool can_is_in_trouble(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if ((CAN_SR(bus) & (CAN_SR_PASSIVE | CAN_SR_OFF)) != 0u) {
            return true;
        }
    }
    return false;
}

/* Bit n: mailbox n waits or is on the wire. */
static uint32_t waiting(uint8_t bus)
{
    uint32_t boxes = 0;

    for (uint32_t box = 0; box < SEND_BOXES; box++) {
        if ((CAN_MSR(bus, box) & CAN_MSR_READY) == 0u) {
            boxes |= 1u << box;
        }
    }
    return boxes;
}

void can_wake(bool enable)
{
    /* An empty mailbox asks for an interrupt as long as it is empty: only those that are full may.
     */
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        const uint32_t boxes = enable ? waiting(bus) : 0u;

        CAN_IDR(bus) = ((1u << SEND_BOXES) - 1u) & ~boxes;
        CAN_IER(bus) = boxes;
    }
    /* What still asks is pending again at once. */
    NVIC_ICPR(ID_CAN0) = NVIC_BIT(ID_CAN0) | NVIC_BIT(ID_CAN1);
}

/* As the wire sees an identifier: base, then RTR or SRR, IDE, then the extension. */
static uint32_t order_of(uint32_t id)
{
    const uint32_t bits = id & ~LOCUM_ID_EXTENDED;

    if ((id & LOCUM_ID_EXTENDED) == 0u) {
        return bits << 20;
    }
    return (bits >> 18) << 20 | 3u << 18 | (bits & 0x3FFFFu);
}

/* A number behind all that go first and before all that come later; negative: none is left, or the
 * identifier waits already. */
static int find_priority(const sent_frames *state, uint32_t boxes, uint32_t id)
{
    int from = -1;
    int to = PRIORITIES;

    for (uint32_t box = 0; box < SEND_BOXES; box++) {
        const int priority = state->priorities[box];

        if ((boxes & (1u << box)) == 0u) {
            continue;
        }
        if (state->ids[box] == id) {
            return -1;
        }
        if (order_of(state->ids[box]) < order_of(id)) {
            from = priority > from ? priority : from;
        } else {
            to = priority < to ? priority : to;
        }
    }
    if (boxes == 0u) {
        return FIRST_PRIORITY;
    }
    return to - from > 1 ? (from + to) / 2 : -1;
}

static uint32_t identifier_bits(uint32_t id)
{
    return (id & LOCUM_ID_EXTENDED) != 0u ? (id & ~LOCUM_ID_EXTENDED) | CAN_MID_EXTENDED
                                          : id << CAN_MID_STANDARD_SHIFT;
}

bool can_send(const locum_frame *frame)
{
    const uint8_t bus = frame->bus;
    const uint32_t boxes = waiting(bus);
    const int priority = find_priority(&sent[bus], boxes, frame->id);
    uint32_t words[2] = {0, 0};
    uint32_t box = 0;

    while (box < SEND_BOXES && (boxes & (1u << box)) != 0u) {
        box++;
    }
    if (box == SEND_BOXES || priority < 0) {
        return false;
    }
    memcpy(words, frame->data, frame->length);
    sent[bus].ids[box] = frame->id;
    sent[bus].priorities[box] = (uint8_t)priority;
    CAN_MMR(bus, box) = CAN_MMR_DISABLED; /* as long as its identifier changes */
    CAN_MID(bus, box) = identifier_bits(frame->id);
    CAN_MMR(bus, box) = CAN_MMR_TRANSMIT | CAN_MMR_PRIORITY((uint32_t)priority);
    CAN_MDL(bus, box) = words[0];
    CAN_MDH(bus, box) = words[1];
    CAN_MCR(bus, box) = CAN_MCR_LENGTH((uint32_t)frame->length) | CAN_MCR_TRANSFER;
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
    const uint32_t boxes = waiting(bus);

    for (uint32_t box = 0; box < SEND_BOXES; box++) {
        if ((boxes & (1u << box)) != 0u && sent[bus].ids[box] == id) {
            return true;
        }
    }
    return false;
}
#endif

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
    const uint32_t boxes = waiting(bus);

    for (uint32_t box = 0; box < SEND_BOXES; box++) {
        if ((boxes & (1u << box)) != 0u) {
            CAN_MCR(bus, box) = CAN_MCR_ABORT; /* one on the wire goes on */
        }
    }
}
#endif
