/*
 * The FDCAN controller as RM0440, RM0444 and RM0433 describe it in "FD controller area network
 * (FDCAN)" (from memory): initialisation and its protected registers, both bit timings and the
 * transmitter's delay compensation, a message RAM laid out by the chip or by the program, transmit
 * buffers as queue or FIFO and their cancellation, filters and receive FIFO 0, bus-off and the way
 * back, the interrupts. Every other mode is reported. Own frames are not received, time is not
 * stamped, there are no transmit events.
 */
#ifndef FDCAN_H
#define FDCAN_H

#include "fdcan_map.h"
#include "recessive.h"
#include "wire.h"

#define FDCAN_MAX_BUFFERS 32u

typedef enum { FDCAN_INITIAL, FDCAN_JOINING, FDCAN_NORMAL } fdcan_mode;

/* What the controller stands on. */
typedef struct {
    uint32_t (*clock_hz)(void *owner); /* of the bit timing */
    uint32_t (*bus_hz)(void *owner);   /* of the registers */
    bool (*check_pins)(void *owner, unsigned index);
    void (*requested)(void *owner); /* a buffer was filled */
    void *owner;
} fdcan_board;

/* Of the chip: all controllers share it. */
typedef struct {
    uint32_t words[FDCAN_RAM_WORDS];
} fdcan_ram;

typedef struct {
    uint64_t requested_at;
    uint32_t order;
    bool on_wire; /* offered to the bus: it may be sending */
} fdcan_buffer_state;

typedef struct {
    wire *wire;
    fdcan_board board;
    const fdcan_kind *kind;
    fdcan_ram *ram;
    unsigned index;
    char name[4]; /* of the bus in reports */
    fdcan_mode mode;
    uint64_t mode_at; /* when INIT takes effect; UINT64_MAX: it has */
    uint64_t listens_from;
    uint32_t values[FDCAN_REGISTERS];
    uint32_t pending; /* TXBRP */
    uint32_t requests;
    fdcan_buffer_state buffers[FDCAN_MAX_BUFFERS];
    unsigned get; /* of FIFO 0 */
    unsigned fill;
    unsigned heard;
    unsigned overruns;
    bool alone;
    uint32_t transmit_errors;
    bool recovering;
    recessive_count recessive;
    uint64_t attempt_ends;
} fdcan;

void fdcan_init(fdcan *can, const fdcan_kind *kind, unsigned index, fdcan_ram *ram, wire *wire,
                const fdcan_board *board);
void fdcan_reset(fdcan *can, uint64_t now);

uint32_t fdcan_read(fdcan *can, uint32_t offset);
void fdcan_write(fdcan *can, uint32_t offset, uint32_t value, uint64_t now);

uint32_t fdcan_ram_read(const fdcan_ram *ram, const fdcan_kind *kind, uint32_t offset);
void fdcan_ram_write(fdcan_ram *ram, const fdcan_kind *kind, uint32_t offset, uint32_t value);

/* As for the other controllers: board_model.h. */
void fdcan_sent(fdcan *can, uint32_t tag);
void fdcan_hear(fdcan *can, const locum_frame *frame);
void fdcan_count_errors(fdcan *can, uint32_t transmit_errors, uint64_t now);
bool fdcan_on_bus(const fdcan *can);
void fdcan_advance(fdcan *can, uint64_t now);
uint64_t fdcan_next(const fdcan *can);
void fdcan_print_waiting(const fdcan *can);

/* Interrupt line 0 or 1. */
bool fdcan_request_line(const fdcan *can, unsigned line);

#endif
