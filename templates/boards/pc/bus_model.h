/*
 * A CAN bus on which several stations send: exact frame length with stuff bits, two bit rates,
 * arbitration, one frame after another (shared/core/RULES.md, rules 15 to 18).
 *
 * Time is counted in ticks; the caller says how many there are in a second.
 */
#ifndef BUS_MODEL_H
#define BUS_MODEL_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "locum_frame.h"

/* Frames that wait at a time, those of every source of traffic among them. */
#define BUS_MODEL_QUEUE 4096u

typedef struct {
    locum_frame frame;
    uint64_t offered; /* tick at which the frame entered a mailbox */
    uint32_t tag;     /* the owner's mark, unique per bus */
    bool used;
} bus_entry;

/* A frame that left the bus. */
typedef struct {
    bus_entry entry;
    uint64_t start; /* start of frame */
    uint64_t end;   /* behind the last bit of end-of-frame */
} bus_report;

typedef struct {
    uint32_t rate;      /* bit/s */
    uint32_t data_rate; /* bit/s behind the switch of a CAN FD frame; as rate unless set */
    uint64_t ticks_per_second;
    uint64_t blocked_until; /* no start before this tick */
    uint64_t idle;          /* earliest next start */
    uint64_t held_until;    /* before this tick no frame with a mark below held_below starts */
    uint32_t held_below;
    bool sending;
    bus_report current;
    size_t end; /* no entry from here on is used */
    bus_entry queue[BUS_MODEL_QUEUE];
} bus_model;

void bus_model_init(bus_model *bus, uint32_t rate, uint64_t ticks_per_second);

/* Puts a frame up for arbitration. False when the queue is full: the model ends there. */
bool bus_model_put(bus_model *bus, const locum_frame *frame, uint32_t tag, uint64_t now);

/* Takes a waiting frame back; false when it is on the wire or gone. */
bool bus_model_take_back(bus_model *bus, uint32_t tag);

/* Takes all waiting frames with a mark below this one back, and reports one per call. */
bool bus_model_withdraw(bus_model *bus, uint32_t below, bus_entry *entry);

/* True while a frame with this mark waits for its turn or is on the wire. */
bool bus_model_waits(const bus_model *bus, uint32_t tag);

/* Ends the frame on the wire if its end has come, and reports it. */
bool bus_model_finish(bus_model *bus, uint64_t now, bus_report *report);

/* Starts the frame that wins arbitration, if the bus is idle and any waits. */
void bus_model_start(bus_model *bus, uint64_t now);

/* The next tick (not before now) at which finish or start has something to do. */
bool bus_model_next(const bus_model *bus, uint64_t now, uint64_t *at);

/* Bits from start-of-frame to the last bit of end-of-frame, stuff bits included. */
typedef struct {
    uint32_t nominal; /* at the bus' bit rate */
    uint32_t fast;    /* at the data rate: ESI to CRC delimiter of a frame that switches */
} bus_frame_bits;

bus_frame_bits bus_model_frame_bits(const locum_frame *frame);

/* True if a wins arbitration over b. */
bool bus_model_wins(uint32_t a, uint32_t b);

#endif
