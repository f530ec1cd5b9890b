/*
 * The CAN controller as RM0008 describes it in "Controller area network (bxCAN)": operating modes
 * and their handshake, bit timing, three transmit mailboxes and their abort, bus-off and the ways
 * back, acceptance filters and receive FIFOs, the interrupts. Every other mode is reported. Own
 * frames are not received, time is not stamped.
 */
#ifndef BXCAN_H
#define BXCAN_H

#include "bxcan_receive.h"
#include "recessive.h"
#include "wire.h"

#define BXCAN_MAILBOXES 3u

typedef enum { BXCAN_ASLEEP, BXCAN_INITIAL, BXCAN_JOINING, BXCAN_NORMAL } bxcan_mode;

typedef struct {
    uint32_t tir;
    uint32_t tdtr;
    uint32_t tdlr;
    uint32_t tdhr;
    uint64_t requested_at;
    uint32_t order; /* of the requests */
    bool on_wire;   /* offered to the bus: it may be sending */
} bxcan_mailbox;

/* What the controller stands on. Asked whenever a frame is to leave. */
typedef struct {
    uint32_t (*clock_hz)(void *owner);
    bool (*check_pins)(void *owner, unsigned index); /* reports what is wrong */
    void (*requested)(void *owner);                  /* a mailbox was filled */
    void *owner;
} bxcan_board;

typedef struct {
    wire *wire;
    bxcan_board board;
    bxcan_mode mode;
    uint64_t mode_at; /* when the mode that MCR asks for begins, or listening began */
    uint32_t mcr;
    uint32_t tsr; /* completion flags */
    uint32_t ier;
    uint32_t btr;
    bxcan_receiver receiver;
    bxcan_mailbox mailboxes[BXCAN_MAILBOXES];
    uint32_t requests;
    bool alone;               /* nobody acknowledges */
    uint32_t transmit_errors; /* 256: bus-off */
    bool error_flag;          /* ERRI */
    bool recovering;          /* counts recessive bits */
    recessive_count recessive;
    uint64_t attempt_ends; /* of a frame that will not be acknowledged; UINT64_MAX: none */
} bxcan;

void bxcan_init(bxcan *can, unsigned index, bxcan_filters *filters, wire *wire,
                const bxcan_board *board);
void bxcan_reset(bxcan *can, uint64_t now);

uint32_t bxcan_read(const bxcan *can, uint32_t offset);
void bxcan_write(bxcan *can, uint32_t offset, uint32_t value, uint64_t now);

/* A frame of the board has ended on the wire. */
void bxcan_sent(bxcan *can, uint32_t tag);

/* A frame of another node has ended on the wire. */
void bxcan_hear(bxcan *can, const locum_frame *frame);

/* The transmit error counter has another value; above 255 the controller is bus-off. */
void bxcan_count_errors(bxcan *can, uint32_t transmit_errors, uint64_t now);

/* Takes part in the bus: neither in another mode nor bus-off. */
bool bxcan_on_bus(const bxcan *can);

/* Mode changes and releases that are due, then the mailbox that takes part in the next arbitration.
 */
void bxcan_advance(bxcan *can, uint64_t now);
uint64_t bxcan_next(const bxcan *can);

bool bxcan_transmit_request(const bxcan *can);
bool bxcan_error_request(const bxcan *can);
bool bxcan_receive_request(const bxcan *can, unsigned fifo);

/* Prints the frames that still wait or are on the wire, without start and end. */
void bxcan_print_waiting(const bxcan *can);

#endif
