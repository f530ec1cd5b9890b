/*
 * What surrounds the microcontroller: buses with the script's traffic, one controller on each, and
 * the levels at the inputs. Times are nanoseconds since reset.
 */
#ifndef WORLD_H
#define WORLD_H

#include "bus_model.h"
#include "mcp2515_chip.h"
#include "script.h"

#define WORLD_MAX_BUSES 3u
#define WORLD_MAX_REMOTES 8u

typedef struct {
    void (*input)(void *owner, unsigned input, bool level);
    void (*interrupt_line)(void *owner, unsigned controller, bool low);
    void *owner;
} world_pins;

/* A request of another node for a frame. It takes no time on the bus. */
typedef struct {
    uint64_t at;
    locum_frame frame; /* without data */
    bool done;
} world_remote;

typedef struct {
    script *script;
    world_pins pins;
    unsigned count; /* buses, each with a controller */
    bus_model bus[WORLD_MAX_BUSES];
    mcp2515_chip chip[WORLD_MAX_BUSES];
    bool int_low[WORLD_MAX_BUSES];
    bool unfit[WORLD_MAX_BUSES];
    bool blocked_done[SCRIPT_MAX_SPANS];
    size_t inputs_done;
    world_remote remotes[WORLD_MAX_REMOTES];
    size_t remote_count;
    uint64_t now;
} world;

void world_init(world *world, script *script, const world_pins *pins);
void world_add(world *world, uint32_t rate, uint32_t crystal_hz, uint64_t crystal_start_ns);

/* Does all that happens up to now, then lets the controllers that were changed meanwhile act. */
void world_advance(world *world, uint64_t now);

/* The next moment (after the last advance) at which something happens by itself. */
bool world_next(const world *world, uint64_t *at);

/* Prints how many frames the controllers took in and lost, and how many still show that in EFLG. */
void world_print_receptions(const world *world);

/* Prints the frames that still wait, without start and end. */
void world_print_waiting(const world *world);

#endif
