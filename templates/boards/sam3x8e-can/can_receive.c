/*
 * Reception. The mailboxes of a kind of identifier form a chain: a frame goes into the first that
 * is free, and the last one keeps the newest when all are full (datasheet, "Chaining Mailboxes").
 * Time stamps tell in which order they came.
 */
#include "board_parts.h"

#if LOCUM_LISTENS

#include <string.h>

#define MAX_LENGTH 8u /* data length codes up to 15 mean 8 bytes */

typedef struct {
    uint32_t id;
    uint32_t mask;
    bool last; /* of its chain */
} receive_box;

#define BOX(id, mask, last) {(id), (mask), (last) != 0},
#define FILTERS(bus, br) {BOARD_FILTERS_##bus(BOX)},
static const receive_box filters[BOARD_BUS_COUNT][RECEIVE_BOXES] = {BOARD_BUSES(FILTERS)};

volatile uint32_t can_overruns;

void can_receive_start(uint8_t bus)
{
    for (uint32_t i = 0; i < RECEIVE_BOXES; i++) {
        const uint32_t box = SEND_BOXES + i;

        CAN_MMR(bus, box) = CAN_MMR_DISABLED;
        CAN_MAM(bus, box) = filters[bus][i].mask;
        CAN_MID(bus, box) = filters[bus][i].id;
        if (filters[bus][i].mask != 0u) {
            CAN_MMR(bus, box) = filters[bus][i].last ? CAN_MMR_OVERWRITE : CAN_MMR_RECEIVE;
        }
    }
}

/* Reading clears what it says about frames that found no room. */
static uint32_t status_of(uint8_t bus, uint32_t box)
{
    const uint32_t status = CAN_MSR(bus, box);

    if ((status & CAN_MSR_IGNORED) != 0u) {
        can_overruns++;
    }
    return status;
}

/* The mailbox with the oldest frame; BOXES: none has any. */
static uint32_t oldest(uint8_t bus)
{
    const uint32_t now = CAN_TIM(bus);
    uint32_t found = BOXES;
    uint32_t greatest = 0;

    for (uint32_t box = SEND_BOXES; box < BOXES; box++) {
        const uint32_t status = status_of(bus, box);
        const uint32_t age = (now - status) & CAN_MSR_STAMP;

        if ((status & CAN_MSR_READY) != 0u && (found == BOXES || age > greatest)) {
            found = box;
            greatest = age;
        }
    }
    return found;
}

/* Takes a frame and lets the mailbox receive again. False: a remote frame, which tells nothing. */
static bool take(uint8_t bus, uint32_t box, locum_frame *frame)
{
    const uint32_t status = status_of(bus, box);
    const uint32_t length = CAN_MSR_LENGTH(status);
    const uint32_t id = CAN_MID(bus, box);
    const uint32_t words[2] = {CAN_MDL(bus, box), CAN_MDH(bus, box)};

    CAN_MCR(bus, box) = CAN_MCR_TRANSFER;
    *frame = (locum_frame){
        .id = (id & CAN_MID_EXTENDED) != 0u ? (id & ~CAN_MID_EXTENDED) | LOCUM_ID_EXTENDED
                                            : id >> CAN_MID_STANDARD_SHIFT,
        .bus = bus,
        .length = (uint8_t)(length < MAX_LENGTH ? length : MAX_LENGTH),
    };
    memcpy(frame->data, words, sizeof words);
    return (status & CAN_MSR_REMOTE) == 0u;
}

bool can_receive(locum_frame *frame)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        for (uint32_t box = oldest(bus); box != BOXES; box = oldest(bus)) {
            if (take(bus, box, frame)) {
                return true;
            }
        }
    }
    return false;
}

#endif
