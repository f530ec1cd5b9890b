#include "wire.h"

#define NS_PER_US 1000u
#define NS_PER_SECOND 1000000000u

/* Acknowledge delimiter and end of frame. */
#define RECESSIVE_END_BITS 8u
#define IDLE_BITS 11u
/* Error flags, error delimiter and intermission (ISO 11898-1, from memory). */
#define ERROR_FRAME_BITS 23u

void wire_init(wire *wire, script *script, uint8_t index, uint32_t rate, uint32_t data_rate)
{
    bus_model_init(&wire->bus, rate, NS_PER_SECOND);
    wire->bus.data_rate = data_rate;
    wire->index = index;
    wire->script = script;
    wire->recessive_from = 0;
}

uint64_t wire_bits(const wire *wire, unsigned bits)
{
    return (uint64_t)bits * NS_PER_SECOND / wire->bus.rate;
}

static void release_traffic(wire *wire, uint64_t now)
{
    for (size_t i = 0; i < wire->script->traffic_count; i++) {
        script_traffic *traffic = &wire->script->traffic[i];
        const uint32_t tag = WIRE_TRAFFIC_TAG + (uint32_t)i;

        while (traffic->frame.bus == wire->index && traffic->next < traffic->until &&
               traffic->next * NS_PER_US <= now) {
            if (!bus_model_waits(&wire->bus, tag)) {
                (void)bus_model_put(&wire->bus, &traffic->frame, tag, now);
            }
            traffic->next += traffic->period;
        }
    }
}

static void apply_blocks(wire *wire, uint64_t now)
{
    for (size_t i = 0; i < wire->script->blocked_count; i++) {
        const script_span *span = &wire->script->blocked[i];

        if (span->bus == wire->index && span->from * NS_PER_US <= now &&
            now < span->until * NS_PER_US && wire->bus.blocked_until < span->until * NS_PER_US) {
            wire->bus.blocked_until = span->until * NS_PER_US;
        }
    }
}

bool wire_finish(wire *wire, uint64_t now, bus_report *report)
{
    const bool ended = bus_model_finish(&wire->bus, now, report);

    if (ended) {
        wire->recessive_from = report->end - wire_bits(wire, RECESSIVE_END_BITS);
    }
    apply_blocks(wire, now);
    release_traffic(wire, now);
    return ended;
}

void wire_start(wire *wire, uint64_t now)
{
    bus_model_start(&wire->bus, now);
}

void wire_cut(wire *wire, uint64_t now)
{
    wire->bus.sending = false;
    wire->bus.idle = now + wire_bits(wire, ERROR_FRAME_BITS);
    wire->recessive_from = wire->bus.idle - wire_bits(wire, IDLE_BITS);
}

static uint64_t earlier(uint64_t next, uint64_t candidate, uint64_t now)
{
    return candidate > now && candidate < next ? candidate : next;
}

uint64_t wire_next(const wire *wire, uint64_t now)
{
    uint64_t next = UINT64_MAX;
    uint64_t at;

    if (bus_model_next(&wire->bus, now, &at)) {
        next = at;
    }
    for (size_t i = 0; i < wire->script->traffic_count; i++) {
        const script_traffic *traffic = &wire->script->traffic[i];

        if (traffic->frame.bus == wire->index && traffic->next < traffic->until &&
            traffic->next * NS_PER_US < next) {
            next = traffic->next * NS_PER_US;
        }
    }
    for (size_t i = 0; i < wire->script->blocked_count; i++) {
        next = earlier(next, wire->script->blocked[i].from * NS_PER_US, now);
        next = earlier(next, wire->script->blocked[i].until * NS_PER_US, now);
    }
    return next;
}

uint64_t wire_idle_since(const wire *wire, uint64_t listening_from)
{
    if (wire->bus.sending) {
        return UINT64_MAX;
    }
    if (listening_from <= wire->recessive_from) {
        return wire->bus.idle; /* the end of a frame and the intermission are 11 bits */
    }
    return listening_from + wire_bits(wire, IDLE_BITS);
}
