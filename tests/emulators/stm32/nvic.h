/*
 * Enable and pending bits of the interrupt controller (PM0056, "Nested vectored interrupt
 * controller"), all at one priority, and the non-maskable interrupt.
 */
#ifndef NVIC_H
#define NVIC_H

#include <stdbool.h>
#include <stdint.h>

#define NVIC_WORDS 5u

typedef struct {
    uint32_t enabled[NVIC_WORDS];
    uint32_t pending[NVIC_WORDS];
    uint32_t lines[NVIC_WORDS]; /* requests that are asserted now */
    bool nmi_pending;
    bool nmi_line;
} nvic;

void nvic_reset(nvic *nvic);
uint32_t nvic_read(nvic *nvic, uint32_t offset);
void nvic_write(nvic *nvic, uint32_t offset, uint32_t value);

/* The devices' requests; an asserted one is pending. */
void nvic_set_lines(nvic *nvic, const uint32_t lines[NVIC_WORDS], bool nmi);

/* Whether a sleeping core wakes. */
bool nvic_wakes(const nvic *nvic);

/* Number of the exception to enter, 0 if none; its pending bit is cleared. */
unsigned nvic_take(nvic *nvic, bool masked);

#endif
