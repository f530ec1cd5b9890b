#include "world_bus.h"

#include <inttypes.h>
#include <stdio.h>

#include "mcp2515_map.h"
#include "mcp2515_timing.h"

#define NS_PER_US 1000u
#define BOARD_TAG 0x10000u /* the script's traffic has its index as mark */

/* Error flags, error delimiter and intermission (ISO 11898-1, from memory). */
#define ERROR_FRAME_BITS 23u

static void print_frame(unsigned bus, const locum_frame *frame, uint64_t accepted,
                        const bus_report *report)
{
    locum_frame named = *frame;
    char text[3][32];
    const uint64_t times[3] = {accepted, report != NULL ? report->start : 0,
                               report != NULL ? report->end : 0};

    for (unsigned i = 0; i < 3; i++) {
        snprintf(text[i], sizeof text[i], "%" PRIu64 ".%03u", times[i] / NS_PER_US,
                 (unsigned)(times[i] % NS_PER_US));
    }
    named.bus = (uint8_t)bus;
    script_print_frame(&named, text[0], report != NULL ? text[1] : "-",
                       report != NULL ? text[2] : "-");
}

/* False for a controller whose bit timing does not fit the bus; says so once. */
static bool fits(world *world, unsigned bus)
{
    char reason[80];

    if (mcp2515_timing_fits(&world->chip[bus], world->bus[bus].rate, reason, sizeof reason)) {
        return true;
    }
    if (!world->unfit[bus]) {
        printf("fault %u %s\n", bus, reason);
    }
    world->unfit[bus] = true;
    return false;
}

void world_bus_hear(world *world, unsigned bus, const locum_frame *frame, bool remote)
{
    if (mcp2515_on_bus(&world->chip[bus]) && fits(world, bus)) {
        mcp2515_heard(&world->chip[bus], frame, remote);
    }
}

static void finish(world *world, unsigned bus, uint64_t now)
{
    mcp2515_chip *chip = &world->chip[bus];
    bus_report report;

    if (!bus_model_finish(&world->bus[bus], now, &report)) {
        return;
    }
    if (report.entry.tag >= BOARD_TAG) {
        print_frame(bus, &report.entry.frame, report.entry.offered, &report);
        world->waiting[bus][report.entry.tag - BOARD_TAG].waits = false;
        mcp2515_sent(chip, (int)(report.entry.tag - BOARD_TAG));
    } else {
        world_bus_hear(world, bus, &report.entry.frame, false);
    }
}

/* A frame whose controller was reset ends with an error frame of the others. */
static void cut(world *world, unsigned bus, uint64_t now)
{
    bus_model *wire = &world->bus[bus];

    if (wire->sending && wire->current.entry.tag >= BOARD_TAG && world->chip[bus].on_wire < 0) {
        wire->sending = false;
        wire->idle = now + ERROR_FRAME_BITS * wire->ticks_per_second / wire->rate;
    }
}

static bool is_asked(const mcp2515_chip *chip, unsigned buffer)
{
    return (chip->reg[R_TXB0CTRL + TXB_STEP * buffer] & TXREQ) != 0;
}

/* Notes what waits, and prints what does not wait any more though it was not sent. */
static void follow_buffers(world *world, unsigned bus)
{
    const mcp2515_chip *chip = &world->chip[bus];

    for (unsigned i = 0; i < MCP2515_BUFFERS; i++) {
        world_waiting *waiting = &world->waiting[bus][i];

        if (waiting->waits && !is_asked(chip, i)) {
            print_frame(bus, &waiting->frame, waiting->at, NULL);
        } else if (!waiting->waits && is_asked(chip, i)) {
            mcp2515_frame_in(chip, (int)i, &waiting->frame);
            waiting->at = chip->requested_at[i];
        }
        waiting->waits = is_asked(chip, i);
    }
}

/* Counts recessive bits for a controller that joins, or was bus-off and is left to itself. */
static void take_part(world *world, unsigned bus, uint64_t now)
{
    bus_model *wire = &world->bus[bus];
    mcp2515_chip *chip = &world->chip[bus];
    const unsigned runs = mcp2515_is_off(chip)          ? RECESSIVE_TO_RECOVER
                          : mcp2515_wants_to_join(chip) ? RECESSIVE_TO_JOIN
                                                        : 0u;

    if (runs != 0u && runs != world->runs[bus]) {
        recessive_begin(&world->recessive[bus], runs, wire, now);
    }
    world->runs[bus] = runs;
    recessive_see(&world->recessive[bus], wire);
    if (runs == 0u || wire->sending || now < recessive_done_at(&world->recessive[bus], wire)) {
        return;
    }
    world->runs[bus] = 0;
    if (runs == RECESSIVE_TO_RECOVER) {
        mcp2515_count_errors(chip, 0);
    } else {
        mcp2515_join(chip);
    }
}

/* The controller decides anew before each start of frame which buffer it sends. */
static void nominate(world *world, unsigned bus)
{
    bus_model *wire = &world->bus[bus];
    mcp2515_chip *chip = &world->chip[bus];
    const int buffer = mcp2515_candidate(chip);
    locum_frame frame;

    for (unsigned i = 0; i < MCP2515_BUFFERS; i++) {
        bus_model_take_back(wire, BOARD_TAG + i);
    }
    if (buffer < 0) {
        return;
    }
    if (!fits(world, bus)) {
        return;
    }
    mcp2515_frame_in(chip, buffer, &frame);
    frame.bus = (uint8_t)bus;
    if (!bus_model_put(wire, &frame, BOARD_TAG + (uint32_t)buffer, chip->requested_at[buffer])) {
        printf("fault %u too much traffic waits\n", bus);
    }
}

static void start(world *world, unsigned bus, uint64_t now)
{
    bus_model *wire = &world->bus[bus];

    if (wire->sending || now < wire->idle || now < wire->blocked_until) {
        return;
    }
    nominate(world, bus);
    bus_model_start(wire, now);
    if (wire->sending && wire->current.entry.tag >= BOARD_TAG) {
        world->chip[bus].on_wire = (int)(wire->current.entry.tag - BOARD_TAG);
    }
}

void world_bus_happen(world *world, unsigned bus, uint64_t now)
{
    mcp2515_chip *chip = &world->chip[bus];

    finish(world, bus, now);
    cut(world, bus, now);
    follow_buffers(world, bus);
    take_part(world, bus, now);
    start(world, bus, now);
    if (chip->complaint != NULL) {
        printf("fault %u %s\n", bus, chip->complaint);
        chip->complaint = NULL;
    }
}

void world_print_waiting(const world *world)
{
    for (unsigned bus = 0; bus < world->count; bus++) {
        for (unsigned i = 0; i < MCP2515_BUFFERS; i++) {
            const world_waiting *waiting = &world->waiting[bus][i];

            if (waiting->waits) {
                print_frame(bus, &waiting->frame, waiting->at, NULL);
            }
        }
    }
}
