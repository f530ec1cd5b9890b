/*
 * Counting runs of 11 recessive bits on a bus: one before a controller takes part, 128 before it is
 * back from bus-off (ISO 11898-1, fault confinement, from memory). A blocked bus is recessive.
 */
#ifndef RECESSIVE_H
#define RECESSIVE_H

#include "bus_model.h"

#define RECESSIVE_TO_JOIN 1u
#define RECESSIVE_TO_RECOVER 128u

typedef struct {
    unsigned left;       /* runs still to be counted */
    uint64_t from;       /* begin of the stretch that counts, as far as it was watched */
    uint64_t known_idle; /* of the bus, when last looked at */
} recessive_count;

/* Watches from now on. */
void recessive_begin(recessive_count *count, unsigned runs, const bus_model *bus, uint64_t now);

/* Call at every event of the bus: ends the stretch when a frame has started. */
void recessive_see(recessive_count *count, const bus_model *bus);

/* When the last run is complete if no other frame starts. */
uint64_t recessive_done_at(const recessive_count *count, const bus_model *bus);

#endif
