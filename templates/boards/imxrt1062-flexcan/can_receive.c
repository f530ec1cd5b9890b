/*
 * Reception. The mailboxes of a kind of identifier form a chain: a frame goes into the first that
 * is free; when all are full, the last one is overwritten. Time stamps tell in which order they
 * came.
 */
#include "board_parts.h"

#if LOCUM_LISTENS

#include <string.h>

typedef struct {
    uint32_t id;
    uint32_t mask; /* 0: not used */
    uint32_t kind; /* FLEXCAN_CS_IDE, or 0 */
} receive_box;

#define BOX(id, mask, extended) {(id), (mask), (extended) != 0 ? FLEXCAN_CS_IDE : 0u},
static const receive_box filters[BOARD_BUS_COUNT][RECEIVE_BOXES] = {BOARD_FILTERS(BOX)};

static const uint8_t lengths[16] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64};

volatile uint32_t can_overruns;

void can_receive_start(uint8_t bus)
{
    for (uint32_t i = 0; i < RECEIVE_BOXES; i++) {
        const receive_box *const own = &filters[bus][i];
        volatile uint32_t *const word = can_box(bus, FIRST_RECEIVE_BOX + i);

        FLEXCAN_RXIMR(buses[bus].controller, FIRST_RECEIVE_BOX + i) = own->mask & FLEXCAN_ID_MASK;
        word[1] = own->id;
        if (own->mask != 0u) {
            word[0] = FLEXCAN_CS_RX_EMPTY | own->kind;
        }
    }
}

/* The mailbox with the oldest frame; BOXES: none has any. */
static uint32_t oldest(uint8_t bus)
{
    const uint32_t flags = FLEXCAN_IFLAG1(buses[bus].controller) & CAN_RECEIVE_EVENTS;
    const uint32_t now = FLEXCAN_TIMER(buses[bus].controller);
    uint32_t found = BOXES;
    uint32_t greatest = 0;

    for (uint32_t box = FIRST_RECEIVE_BOX; flags != 0u && box < BOXES; box++) {
        const uint32_t age =
            (flags & (1u << box)) == 0u ? 0u : (now - *can_box(bus, box)) & FLEXCAN_CS_STAMP;

        if ((flags & (1u << box)) != 0u && (found == BOXES || age > greatest)) {
            found = box;
            greatest = age;
        }
    }
    return found;
}

static uint32_t shorter(uint32_t a, uint32_t b)
{
    return a < b ? a : b;
}

/* Takes a frame and lets the mailbox receive again. */
static void take(uint8_t bus, uint32_t box, locum_frame *frame)
{
    const volatile uint32_t *const word = can_box(bus, box);
    const uint32_t control = word[0]; /* locks the mailbox */
    const uint32_t id = word[1];
    const uint32_t most = (control & FLEXCAN_CS_EDL) != 0u ? LOCUM_MAX_LENGTH : 8u;
    const uint32_t length = shorter(lengths[control >> FLEXCAN_CS_DLC_SHIFT & 0xFu], most);

    *frame = (locum_frame){
        .id = (control & FLEXCAN_CS_IDE) != 0u
                  ? (id & FLEXCAN_ID_MASK) | LOCUM_ID_EXTENDED
                  : (id & FLEXCAN_ID_MASK) >> FLEXCAN_ID_STANDARD_SHIFT,
        .bus = bus,
        .length = (uint8_t)length,
    };
    for (uint32_t at = 0; at < length; at += 4u) {
        const uint32_t bytes = __builtin_bswap32(word[2u + at / 4u]);

        memcpy(&frame->data[at], &bytes, shorter(length - at, sizeof bytes));
    }
    if ((control & FLEXCAN_CS_CODE_MASK) == FLEXCAN_CS_RX_OVERRUN) {
        can_overruns++;
    }
    FLEXCAN_IFLAG1(buses[bus].controller) = 1u << box;
    (void)FLEXCAN_TIMER(buses[bus].controller); /* unlocks it */
}

bool can_receive(locum_frame *frame)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        const uint32_t box = oldest(bus);

        if (box != BOXES) {
            take(bus, box, frame);
            return true;
        }
    }
    return false;
}

#endif
