/*
 * Oscillators, PLL and bus clocks; each family of chips has its registers and divisors (clock_*.c).
 * Start-up times are typical ones of the datasheets (from memory).
 */
#ifndef CLOCK_TREE_H
#define CLOCK_TREE_H

#include <stdbool.h>
#include <stdint.h>

#define NEVER UINT64_MAX
#define CLOCK_MAX_REGISTERS 32u

typedef struct clock_tree clock_tree;

typedef struct {
    uint16_t offset;
    uint32_t reset;
    uint32_t writable;
    uint32_t pll_locked; /* bits that do not change while the PLL runs */
} clock_register;

typedef struct {
    const clock_register *registers;
    unsigned register_count;
    uint16_t control; /* HSEON in bit 16, HSERDY 17, CSSON 19, PLLON 24, PLLRDY 25 */
    uint32_t internal_on;
    uint32_t internal_ready;
    uint16_t configuration; /* the switch in the lowest bits */
    uint32_t switch_mask;
    unsigned status_shift;
    uint32_t internal_code; /* of the switch */
    uint32_t crystal_code;
    uint32_t pll_code;
    uint32_t internal_hz;
    uint16_t flags; /* of interrupts */
    uint32_t security_flag;
    uint16_t clear;
    uint32_t security_clear;
    uint16_t cause; /* of resets */
    uint32_t cause_flags;
    uint32_t cause_remove;
    uint32_t cause_power;
    uint32_t cause_watchdog;
    uint32_t flash_acr;     /* at reset */
    uint32_t latency_field; /* of it */
    bool (*pll_uses_crystal)(const clock_tree *clock);
    uint32_t (*pll_hz)(const clock_tree *clock);
    uint32_t (*core_hz)(const clock_tree *clock, uint32_t system_hz);
    uint32_t (*apb1_hz)(const clock_tree *clock, uint32_t core_hz);
    uint32_t (*timers_hz)(const clock_tree *clock, uint32_t core_hz); /* of TIM2 and TIM3 */
    uint32_t (*can_hz)(const clock_tree *clock);                      /* of the controllers */
    void (*check_limits)(const clock_tree *clock, uint32_t system_hz);
} clock_family;

struct clock_tree {
    const clock_family *family;
    uint32_t values[CLOCK_MAX_REGISTERS];
    uint32_t flash_acr;
    uint32_t crystal_hz;
    uint64_t crystal_ready_at;
    uint64_t pll_ready_at;
    bool crystal_missing;
    uint64_t crystal_stops_at; /* NEVER: it does not stop */
};

typedef enum { CLOCK_POWER, CLOCK_WATCHDOG } clock_cause;

/* Adds a cause to those that the program has not removed; a supply's takes the place of all. */
void clock_tree_reset(clock_tree *clock, clock_cause cause);

uint32_t clock_tree_read(const clock_tree *clock, uint32_t offset);
void clock_tree_write(clock_tree *clock, uint32_t offset, uint32_t value, uint64_t now);

/* A register's value; without a report. */
uint32_t clock_tree_value(const clock_tree *clock, uint16_t offset);

/* The flash access control register lies outside the block above. */
void clock_tree_set_wait_states(clock_tree *clock, uint32_t value);

void clock_tree_advance(clock_tree *clock, uint64_t now);
uint64_t clock_tree_next(const clock_tree *clock);

/* Frequencies in Hz; 0 while the source stands still. */
uint32_t clock_tree_core(const clock_tree *clock);
uint32_t clock_tree_apb1(const clock_tree *clock);
uint32_t clock_tree_timers(const clock_tree *clock);
uint32_t clock_tree_can(const clock_tree *clock);
unsigned clock_tree_wait_states(const clock_tree *clock);

/* The clock security system asks for the non-maskable interrupt. */
bool clock_tree_nmi(const clock_tree *clock);

/* Reports more wait states needed than there are: limits[n] is the fastest clock for n of them. */
void clock_tree_check_flash(const clock_tree *clock, uint32_t hz, const uint32_t *limits,
                            unsigned count);

/* Divisor that a prescaler field of three or four bits stands for. */
uint32_t clock_tree_ahb_divisor(uint32_t field); /* 0xxx: 1, 8..15: 2 to 512 */
uint32_t clock_tree_apb_divisor(uint32_t field); /* 0xx: 1, 4..7: 2 to 16 */

extern const clock_family clock_f1;
extern const clock_family clock_f4;
extern const clock_family clock_g0;
extern const clock_family clock_g4;
extern const clock_family clock_h7;

#endif
