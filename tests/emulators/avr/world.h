/*
 * What surrounds the microcontroller: buses with the script's traffic, one controller on each, and
 * the levels at the inputs. Times are nanoseconds since reset.
 */
#ifndef WORLD_H
#define WORLD_H

#include "bus_model.h"
#include "bus_offs.h"
#include "mcp2515_chip.h"
#include "recessive.h"
#include "script.h"
#include "spi_troubles.h"

#define WORLD_MAX_BUSES 3u
#define WORLD_MAX_REMOTES 8u
#define WORLD_MAX_ERRORS 8u

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

/* The transmit error counter of a controller shows so much from a moment on. */
typedef struct {
    uint64_t at;
    unsigned bus;
    unsigned transmit_errors;
    bool done;
} world_errors;

/* What a transmit buffer was asked to send, for the report of frames that are taken back. */
typedef struct {
    bool waits;
    locum_frame frame;
    uint64_t at;
} world_waiting;

typedef struct {
    script *script;
    world_pins pins;
    unsigned count; /* buses, each with a controller */
    bus_model bus[WORLD_MAX_BUSES];
    mcp2515_chip chip[WORLD_MAX_BUSES];
    uint64_t crystal_start_ns[WORLD_MAX_BUSES];
    unsigned runs[WORLD_MAX_BUSES]; /* that a controller waits for: to join, to recover; 0: none */
    recessive_count recessive[WORLD_MAX_BUSES];
    bool int_low[WORLD_MAX_BUSES];
    bool unfit[WORLD_MAX_BUSES];
    bool blocked_done[SCRIPT_MAX_SPANS];
    size_t inputs_done;
    bus_offs offs;
    size_t resets_done;
    world_waiting waiting[WORLD_MAX_BUSES][MCP2515_BUFFERS];
    world_remote remotes[WORLD_MAX_REMOTES];
    size_t remote_count;
    world_errors errors[WORLD_MAX_ERRORS];
    size_t error_count;
    spi_troubles troubles;
    uint64_t now;
} world;

void world_init(world *world, script *script, const world_pins *pins);
void world_add(world *world, uint32_t rate, uint32_t crystal_hz, uint64_t crystal_start_ns);

/* Does all that happens up to now, then lets the controllers that were changed meanwhile act. */
void world_advance(world *world, uint64_t now);

/* A byte goes both ways between the microcontroller and a controller. */
uint8_t world_exchange(world *world, unsigned controller, uint8_t out, uint64_t now);

/* If the script resets the board by now, and what for; once each. */
bool world_takes_reset(world *world, uint64_t now, locum_reset_cause *cause);

/* The microcontroller was reset: the chip selects float high. Power takes the controllers along. */
void world_reset(world *world, locum_reset_cause cause, uint64_t now);

/* The next moment (after the last advance) at which something happens by itself. */
bool world_next(const world *world, uint64_t *at);

/* Prints how many frames the controllers took in and lost, and how many still show that in EFLG. */
void world_print_receptions(const world *world);

/* Prints the frames that still wait, without start and end. */
void world_print_waiting(const world *world);

#endif
