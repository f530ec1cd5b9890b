#include "recessive.h"

#define RUN_BITS 11u

static uint64_t bits(const bus_model *bus, uint64_t count)
{
    return (count * bus->ticks_per_second + bus->rate - 1u) / bus->rate;
}

/* Acknowledge delimiter, end of frame and intermission are one run, so the stretch behind a frame
 * begins before the bus is idle. */
static uint64_t behind_frame(const bus_model *bus)
{
    return bus->idle - bits(bus, RUN_BITS);
}

void recessive_begin(recessive_count *count, unsigned runs, const bus_model *bus, uint64_t now)
{
    count->left = runs;
    count->from = bus->sending ? behind_frame(bus) : now;
    count->known_idle = bus->idle;
}

void recessive_see(recessive_count *count, const bus_model *bus)
{
    if (bus->idle == count->known_idle) {
        return;
    }
    count->known_idle = bus->idle;
    if (bus->current.start > count->from) {
        const uint64_t runs =
            (bus->current.start - count->from) * bus->rate / (RUN_BITS * bus->ticks_per_second);

        count->left = runs < count->left ? count->left - (unsigned)runs : 0u;
    }
    count->from = behind_frame(bus);
}

uint64_t recessive_done_at(const recessive_count *count, const bus_model *bus)
{
    return count->from + bits(bus, (uint64_t)RUN_BITS * count->left);
}
