/*
 * The bus outside the board: the other nodes' frames of the script and the times at which it is
 * blocked. Times in nanoseconds since reset.
 */
#ifndef WIRE_H
#define WIRE_H

#include "bus_model.h"
#include "script.h"

/* Marks of the other nodes' frames; the board's own are below. */
#define WIRE_TRAFFIC_TAG 0x10000u

typedef struct {
    bus_model bus;
    script *script;
    uint8_t index;           /* of the bus */
    uint64_t recessive_from; /* while nothing is on the wire: since when it is recessive */
} wire;

void wire_init(wire *wire, script *script, uint8_t index, uint32_t rate, uint32_t data_rate);

uint64_t wire_bits(const wire *wire, unsigned bits);

/* First half of an instant: the frame that ends now (true), then releases and blocks. */
bool wire_finish(wire *wire, uint64_t now, bus_report *report);

/* Second half: the next frame starts. */
void wire_start(wire *wire, uint64_t now);

/* The station that is sending is reset: the others end its frame with an error frame. */
void wire_cut(wire *wire, uint64_t now);

uint64_t wire_next(const wire *wire, uint64_t now);

/* When a station that listens since a moment has seen 11 recessive bits, as things stand. */
uint64_t wire_idle_since(const wire *wire, uint64_t listening_from);

#endif
