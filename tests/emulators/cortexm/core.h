/*
 * A Cortex-M core that runs a program on a chip: counts its cycles, sleeps, is reset. Interrupts
 * are expected to stay masked; one that would be entered is reported.
 */
#ifndef CORE_H
#define CORE_H

#include <unicorn/unicorn.h>

#include "chip.h"
#include "elf_image.h"
#include "interrupts.h"

/* Blocks of code that were met, by their address. */
#define CORE_COSTS 4096u

typedef struct {
    uint32_t address;
    uint32_t size; /* 0: none */
    unsigned cycles;
} block_cost;

typedef struct {
    uc_engine *uc;
    const chip_kind *kind;
    void *chip;
    interrupts interrupts;
    uint32_t vector_table;
    uint8_t *memories[CHIP_REGIONS];
    uint64_t now;
    uint64_t rest; /* of a nanosecond, times the core's frequency */
    uint64_t end;
    uint64_t slept;
    uint64_t watched_from; /* how restless the core is, since then */
    uint64_t watched_slept;
    /* As they were when the chip was last looked at; nothing but a look changes them. */
    uint64_t hz;   /* of the core */
    uint64_t next; /* when the chip wants to be looked at again */
    block_cost costs[CORE_COSTS];
    uint32_t block_end; /* address behind the block that runs */
    bool slice_over;    /* stopped from outside, not by a wait for interrupt */
    bool reset_asked;
    bool stopped; /* nothing more can happen */
    locum_reset_cause reset_cause;
    uint64_t reset_at;
} core;

/* False with a message on standard error. */
bool core_init(core *core, const chip_kind *kind, void *chip, const elf_image *image);

/* Runs up to a moment. */
void core_run(core *core, uint64_t end);

/* A word in memory by its symbol; 0 if there is none. */
uint32_t core_word(core *core, const elf_image *image, const char *symbol);

/* Bytes between the stack's top and the lowest one that was ever written. */
unsigned core_stack_bytes(core *core);

#endif
