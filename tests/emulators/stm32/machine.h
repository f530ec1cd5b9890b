/* The Cortex-M core on the board: runs the program, counts its cycles, sleeps, enters exceptions.
 */
#ifndef MACHINE_H
#define MACHINE_H

#include <unicorn/unicorn.h>

#include "board_model.h"
#include "elf_image.h"

#define MACHINE_FLASH 0x08000000u
#define MACHINE_FLASH_SIZE 0x200000u /* of the largest chip */
#define MACHINE_RAM 0x20000000u
#define MACHINE_RAM_SIZE 0x20000u

typedef struct {
    uint16_t size;
    uint16_t cycles;
} block_cost;

typedef struct {
    uc_engine *uc;
    board_model *board;
    uint8_t flash[MACHINE_FLASH_SIZE];
    block_cost costs[MACHINE_FLASH_SIZE / 2u];
    uint64_t rest;         /* of a nanosecond, times the core's frequency */
    uint32_t block_end;    /* address behind the block that runs */
    uint32_t start_symbol; /* locum_start, or 0 */
    uint64_t end;
    uint64_t slept;
    uint64_t started_at; /* the moment that locum_start takes as power-on; UINT64_MAX: not yet */
    bool in_handler;     /* exceptions are entered, never left */
    bool interrupted;    /* stopped for an exception or the end, not by a wait for interrupt */
} machine;

/* Loads and mutates the firmware, paints the RAM. False with a message on standard error. */
bool machine_init(machine *machine, board_model *board, const elf_image *image);

/* Fills the RAM with what no program wrote. */
bool machine_forget_ram(machine *machine);

/* Devices and hooks of the emulated core. */
bool machine_attach(machine *machine);

void machine_run(machine *machine, uint64_t end);

/* A word in the RAM by its symbol; 0 if there is none. */
uint32_t machine_word(machine *machine, const elf_image *image, const char *symbol);

/* Bytes between the stack's top and the lowest one that was ever written. */
unsigned machine_stack_bytes(machine *machine);

#endif
