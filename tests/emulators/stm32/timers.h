/*
 * TIM2 and TIM3 as up-counters with update and first compare channel, and TIM2's update as clock
 * of TIM3 (RM0008, "General-purpose timers"). Any other mode is reported, not guessed.
 */
#ifndef TIMERS_H
#define TIMERS_H

#include <stdbool.h>
#include <stdint.h>

#define TIMER_COUNT 2u

typedef struct {
    uint32_t cr1;
    uint32_t cr2;
    uint32_t smcr;
    uint32_t dier;
    uint32_t sr;
    uint32_t psc_next; /* taken over at the next update */
    uint32_t psc;
    uint32_t arr;
    uint32_t ccr1;
    uint32_t count; /* at base */
    uint64_t base;  /* moment at which the counter stepped to count */
} timer;

typedef struct {
    timer each[TIMER_COUNT]; /* TIM2, TIM3 */
    uint32_t hz;             /* their clock */
    uint64_t now;
    bool wide;            /* TIM2 has 32 bits */
    uint32_t start_count; /* what the 32-bit clock TIM3:TIM2 shows (or TIM2 alone, if wide) when
                             first started */
    uint64_t started_at;  /* that moment, or UINT64_MAX */
} timers;

void timers_reset(timers *timers, bool wide, uint32_t start_count);

uint32_t timers_read(const timers *timers, unsigned index, uint32_t offset);
void timers_write(timers *timers, unsigned index, uint32_t offset, uint32_t value);

void timers_set_clock(timers *timers, uint32_t hz);
void timers_advance(timers *timers, uint64_t now);
uint64_t timers_next(const timers *timers);

bool timers_request(const timers *timers, unsigned index);

#endif
