/*
 * What surrounds a board: buses with the script's traffic, a controller of any kind on each, levels
 * at the inputs, bus-offs and resets of the script. Times are nanoseconds since power-on.
 */
#ifndef SURROUNDINGS_H
#define SURROUNDINGS_H

#include "bus_model.h"
#include "bus_offs.h"
#include "locum_core.h"
#include "recessive.h"
#include "script.h"

#define SURROUNDINGS_BUSES 4u
#define SURROUNDINGS_NS_PER_US 1000u

/* A controller as its bus sees it. A frame is named by the place in which the controller has it. */
typedef struct {
    /* The place that takes part in the next arbitration, -1: none; and since when it asks. */
    int (*candidate)(void *controller, locum_frame *frame, uint64_t *asked_at);
    /* It is on the wire; then it has left. */
    void (*started)(void *controller, int place);
    void (*sent)(void *controller, int place);
    /* Another station's frame has left the bus. */
    void (*heard)(void *controller, const locum_frame *frame);
    /* Takes part in the bus: hears, and may send. */
    bool (*on_bus)(const void *controller);
    /* Runs of 11 recessive bits that it waits for, 0: none; then it has seen them. */
    unsigned (*awaits)(const void *controller);
    void (*has_seen)(void *controller, unsigned runs);
    /* The transmit error counter shows so much; 256: bus-off. */
    void (*counts_errors)(void *controller, unsigned transmit_errors);
} station;

/* What the levels at the inputs and a reset do; either may be null. */
typedef struct {
    void (*input)(void *owner, unsigned input, bool level);
    void *owner;
} surroundings_pins;

typedef struct {
    bus_model wire;
    const station *station;
    void *controller;
    unsigned runs; /* that the controller waits for */
    recessive_count recessive;
} surroundings_bus;

typedef struct {
    script script;
    surroundings_pins pins;
    unsigned count;
    surroundings_bus buses[SURROUNDINGS_BUSES];
    bool blocked_done[SCRIPT_MAX_SPANS];
    size_t inputs_done;
    size_t resets_done;
    bus_offs offs;
    uint64_t heard; /* frames that controllers were shown */
    uint64_t now;
} surroundings;

/* Adds a bus, or gives an old one a new controller. */
void surroundings_add(surroundings *around, uint32_t rate, uint32_t data_rate);
void surroundings_attach(surroundings *around, unsigned bus, const station *station,
                         void *controller);

/* Does all that happens up to a moment, in order; call it again at the same moment when a
 * controller was changed. */
void surroundings_advance(surroundings *around, uint64_t now);

/* The next moment after the last advance at which something happens by itself; UINT64_MAX: never.
 */
uint64_t surroundings_next(const surroundings *around);

/* If the script resets the board by now, and what for; once each. */
bool surroundings_take_reset(surroundings *around, locum_reset_cause *cause);

/* The controller of a bus was reset: a frame that it had on the wire is cut off. */
void surroundings_cut(surroundings *around, unsigned bus);

/* Prints a frame of the board, without start and end if it was never sent. */
void surroundings_print(unsigned bus, const locum_frame *frame, uint64_t asked_at,
                        const bus_report *report);

#endif
