/*
 * Enable and pending bits of the interrupt controller (ARMv7-M Architecture Reference Manual,
 * "Nested Vectored Interrupt Controller"), all at one priority.
 */
#ifndef INTERRUPTS_H
#define INTERRUPTS_H

#include "chip.h"

typedef struct {
    uint32_t enabled[CHIP_IRQ_WORDS];
    uint32_t pending[CHIP_IRQ_WORDS];
    uint32_t lines[CHIP_IRQ_WORDS];
} interrupts;

/* Offsets from 0xE000E000. False: not a register of the interrupt controller. */
bool interrupts_read(const interrupts *interrupts, uint32_t offset, uint32_t *value);
bool interrupts_write(interrupts *interrupts, uint32_t offset, uint32_t value);

/* The devices' requests; an asserted one is pending. */
void interrupts_set_lines(interrupts *interrupts, const uint32_t lines[CHIP_IRQ_WORDS]);

/* Whether a sleeping core wakes. */
bool interrupts_wake(const interrupts *interrupts);

#endif
