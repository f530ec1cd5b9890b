/* Independent watchdog on its 40 kHz oscillator (RM0008, "Independent watchdog"). */
#ifndef WATCHDOG_H
#define WATCHDOG_H

#include <stdbool.h>
#include <stdint.h>

typedef struct {
    uint32_t oscillator_hz;
    uint32_t pr;
    uint32_t rlr;
    bool unlocked;
    uint64_t expires_at; /* UINT64_MAX until it is started */
} watchdog;

void watchdog_reset(watchdog *watchdog, uint32_t oscillator_hz);
uint32_t watchdog_read(const watchdog *watchdog, uint32_t offset);
void watchdog_write(watchdog *watchdog, uint32_t offset, uint32_t value, uint64_t now);

#endif
