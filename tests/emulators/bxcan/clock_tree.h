/*
 * Oscillators, PLL and bus clocks (RM0008, "Reset and clock control"; flash wait states from
 * "Embedded Flash memory"). Start-up times are typical ones of the datasheet (from memory).
 */
#ifndef CLOCK_TREE_H
#define CLOCK_TREE_H

#include <stdbool.h>
#include <stdint.h>

#define NEVER UINT64_MAX

typedef struct {
    uint32_t cr;
    uint32_t cfgr;
    uint32_t cir;
    uint32_t apb1rstr;
    uint32_t ahbenr;
    uint32_t apb2enr;
    uint32_t apb1enr;
    uint32_t csr; /* why the chip was reset */
    uint32_t flash_acr;
    uint64_t crystal_ready_at;
    uint64_t pll_ready_at;
    bool crystal_missing;
    uint64_t crystal_stops_at; /* NEVER: it does not stop */
} clock_tree;

#define CSR_POWER ((1u << 27) | (1u << 26))    /* PORRSTF, PINRSTF */
#define CSR_WATCHDOG ((1u << 29) | (1u << 26)) /* IWDGRSTF, PINRSTF */

/* Adds a cause to those that the program has not removed; a supply's takes the place of all. */
void clock_tree_reset(clock_tree *clock, uint32_t cause);

uint32_t clock_tree_read(const clock_tree *clock, uint32_t offset);
void clock_tree_write(clock_tree *clock, uint32_t offset, uint32_t value, uint64_t now);

/* The flash access control register lies outside the block above. */
void clock_tree_set_wait_states(clock_tree *clock, uint32_t value);

void clock_tree_advance(clock_tree *clock, uint64_t now);
uint64_t clock_tree_next(const clock_tree *clock);

/* Frequencies in Hz; 0 while the source stands still. */
uint32_t clock_tree_core(const clock_tree *clock);
uint32_t clock_tree_apb1(const clock_tree *clock);
uint32_t clock_tree_timers(const clock_tree *clock); /* of TIM2 and TIM3 */
unsigned clock_tree_wait_states(const clock_tree *clock);

/* The clock security system asks for the non-maskable interrupt. */
bool clock_tree_nmi(const clock_tree *clock);

bool clock_tree_feeds(const clock_tree *clock, uint32_t apb1_bit, uint32_t apb2_bit);

#endif
