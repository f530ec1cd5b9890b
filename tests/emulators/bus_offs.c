#include "bus_offs.h"

#define NS_PER_US 1000u

static const struct {
    uint64_t before_ns;
    unsigned transmit_errors;
} steps[] = {{2000000u, 104}, {1000000u, 136}, {0, 256}};

#define STEPS (sizeof steps / sizeof steps[0])

static uint64_t due_at(const bus_offs *offs, const script *script, size_t i)
{
    const uint64_t at = script->bus_offs[i].at * NS_PER_US;
    const uint64_t before = steps[offs->steps[i]].before_ns;

    return at > before ? at - before : 0;
}

bool bus_offs_take(bus_offs *offs, const script *script, uint64_t now, uint8_t *bus,
                   unsigned *transmit_errors)
{
    for (size_t i = 0; i < script->bus_off_count; i++) {
        if (offs->steps[i] < STEPS && due_at(offs, script, i) <= now) {
            *bus = script->bus_offs[i].what;
            *transmit_errors = steps[offs->steps[i]++].transmit_errors;
            return true;
        }
    }
    return false;
}

uint64_t bus_offs_next(const bus_offs *offs, const script *script)
{
    uint64_t next = UINT64_MAX;

    for (size_t i = 0; i < script->bus_off_count; i++) {
        if (offs->steps[i] < STEPS && due_at(offs, script, i) < next) {
            next = due_at(offs, script, i);
        }
    }
    return next;
}
