/* Microseconds from Timer1, which also ends a sleep at a given time. */
#ifndef CLOCK_H
#define CLOCK_H

#include <avr/io.h>
#include <stdint.h>

#include "board_config.h"

#if F_CPU != 16000000UL
#error "clock.c counts half microseconds and needs a CPU clock of 16 MHz"
#endif

/* Reasons to leave a sleep, in a register that one instruction sets and clears. */
#define WAKE_FLAGS GPIOR0
#define WAKE_PIN 0
#define WAKE_ALARM 1

/* Starts at 0. */
void clock_start(void);

uint32_t clock_now_us(void);

/* Sets WAKE_ALARM whenever the lower 15 bits of the time are those of due_us. */
void clock_set_alarm(uint32_t due_us);

#endif
