/*
 * The bus-offs of a script. Errors do not come at once, so each is led up to: the transmit error
 * counter passes the warning limit two milliseconds before and the error-passive limit one.
 */
#ifndef BUS_OFFS_H
#define BUS_OFFS_H

#include "script.h"

typedef struct {
    unsigned steps[SCRIPT_MAX_SPANS]; /* taken so far, of each bus-off */
} bus_offs;

/* A step that is due at now (ns): on which bus, and what the error counter shows. Once each. */
bool bus_offs_take(bus_offs *offs, const script *script, uint64_t now, uint8_t *bus,
                   unsigned *transmit_errors);

/* The time of the next step, ns; UINT64_MAX: none. */
uint64_t bus_offs_next(const bus_offs *offs, const script *script);

#endif
