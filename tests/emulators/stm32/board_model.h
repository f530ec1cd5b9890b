/*
 * The microcontroller with what surrounds it, without the core: devices, time, and the events that
 * come with it. Times are nanoseconds since reset.
 */
#ifndef BOARD_MODEL_H
#define BOARD_MODEL_H

#include "bus_offs.h"
#include "bxcan.h"
#include "chip.h"
#include "fdcan.h"
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

/* What the controllers of all kinds can do. */
typedef struct {
    void (*reset)(void *can, uint64_t now);
    void (*sent)(void *can, uint32_t tag);
    void (*hear)(void *can, const locum_frame *frame);
    void (*count_errors)(void *can, unsigned errors, uint64_t now);
    bool (*on_bus)(const void *can);
    void (*advance)(void *can, uint64_t now);
    uint64_t (*next)(const void *can);
    void (*print_waiting)(const void *can);
    bool (*request)(const void *can, unsigned number); /* in the order of chip.can_irqs */
    unsigned (*heard)(const void *can);
    unsigned (*overruns)(const void *can);
} can_operations;

typedef struct {
    wire wire;
    bool is_used; /* there is a bus */
    const can_operations *operations;
    void *can;
} can_port;

typedef struct {
    const chip *chip;
    const options *options;
    script *script;
    clock_tree clock;
    ports ports;
    timers timers;
    watchdog watchdog;
    nvic nvic;
    can_port cans[CHIP_MAX_CONTROLLERS];
    bxcan bxcans[CHIP_MAX_CONTROLLERS];
    bxcan_filters bxcan_filters;
    fdcan fdcans[CHIP_MAX_CONTROLLERS];
    fdcan_ram fdcan_ram;
    uint32_t power[8]; /* registers of the power control, where a chip needs them */
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

/* Over all controllers. */
unsigned board_model_heard(const board_model *board);
unsigned board_model_overruns(const board_model *board);
void board_model_print_waiting(const board_model *board);

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
