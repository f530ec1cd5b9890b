/*
 * The microcontroller with what surrounds it, without the core: devices, time, and the events that
 * come with it. Times are nanoseconds since reset.
 */
#ifndef BOARD_MODEL_H
#define BOARD_MODEL_H

#include "bus_offs.h"
#include "bxcan.h"
#include "clock_tree.h"
#include "nvic.h"
#include "options.h"
#include "ports.h"
#include "timers.h"
#include "watchdog.h"
#include "wire.h"

typedef struct {
    uint64_t first_frame_at; /* UINT64_MAX: none yet */
    uint64_t clock_start;    /* of the first life; UINT64_MAX: not yet */
    uint64_t frames;
} board_counts;

typedef struct {
    const options *options;
    script *script;
    clock_tree clock;
    ports ports;
    timers timers;
    watchdog watchdog;
    nvic nvic;
    wire wire;
    bxcan can;
    board_counts counts;
    size_t inputs_done;
    bus_offs offs;
    size_t resets_done;
    bool reset_asked; /* the core is to stop and board_model_reset to be called */
    locum_reset_cause reset_cause;
    bool lives;        /* the program has started its clock since the last reset */
    int watched_level; /* -1: not put out yet */
    uint64_t now;
    uint64_t next; /* the next event, not before now */
    bool stopped;  /* nothing more can happen */
} board_model;

void board_model_init(board_model *board, const options *options, script *script);

/* Resets every device, as reset_cause tells. */
void board_model_reset(board_model *board);

/* Does all that happens up to a moment, in order. */
void board_model_advance(board_model *board, uint64_t to);

/* Accesses of the core; address is absolute. */
uint32_t board_model_read(board_model *board, uint32_t address);
void board_model_write(board_model *board, uint32_t address, uint32_t value);

/* Frequency of the bus that a device hangs on. */
uint32_t board_model_bus_hz(const board_model *board, uint32_t address);

/* If the script stalls the board now: the end of the stall; else 0. */
uint64_t board_model_stall_end(const board_model *board);

#endif
