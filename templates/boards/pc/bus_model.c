#include "bus_model.h"

#include <string.h>

/* Counts bits and stuff bits and runs the CRC of ISO 11898-1 over the bits before it. */
typedef struct {
    uint32_t bits;
    uint32_t crc;
    unsigned run; /* equal bits in a row, stuff bits included */
    unsigned last;
} bit_counter;

static void count_bit(bit_counter *counter, unsigned bit)
{
    counter->bits++;
    if (bit == counter->last) {
        counter->run++;
    } else {
        counter->run = 1;
        counter->last = bit;
    }
    if (counter->run == 5u) {
        counter->bits++;
        counter->last = 1u - bit;
        counter->run = 1;
    }
}

static void count_covered(bit_counter *counter, uint32_t value, unsigned width)
{
    while (width-- > 0u) {
        const unsigned bit = (unsigned)((value >> width) & 1u);
        const unsigned feedback = bit ^ (unsigned)((counter->crc >> 14) & 1u);

        counter->crc = (counter->crc << 1) & 0x7FFFu;
        if (feedback != 0u) {
            counter->crc ^= 0x4599u;
        }
        count_bit(counter, bit);
    }
}

uint32_t bus_model_frame_bits(const locum_frame *frame)
{
    bit_counter counter = {0, 0, 0, 2};
    const uint32_t id = frame->id & ~LOCUM_ID_EXTENDED;
    uint32_t crc;

    count_covered(&counter, 0, 1); /* start of frame */
    if ((frame->id & LOCUM_ID_EXTENDED) != 0u) {
        count_covered(&counter, id >> 18, 11);
        count_covered(&counter, 3, 2); /* SRR, IDE recessive */
        count_covered(&counter, id & 0x3FFFFu, 18);
        count_covered(&counter, 0, 3); /* RTR, r1, r0 */
    } else {
        count_covered(&counter, id, 11);
        count_covered(&counter, 0, 3); /* RTR, IDE, r0 */
    }
    count_covered(&counter, frame->length, 4);
    for (unsigned i = 0; i < frame->length; i++) {
        count_covered(&counter, frame->data[i], 8);
    }
    crc = counter.crc;
    for (unsigned i = 15; i-- > 0u;) {
        count_bit(&counter, (unsigned)((crc >> i) & 1u));
    }
    return counter.bits + 10u; /* CRC delimiter, ACK slot and delimiter, 7 bits end of frame */
}

/* The identifier as the wire sees it: base, then RTR or SRR, IDE, then the extension. */
static uint32_t arbitration_key(uint32_t id)
{
    if ((id & LOCUM_ID_EXTENDED) == 0u) {
        return id << 20;
    }
    id &= ~LOCUM_ID_EXTENDED;
    return ((id >> 18) << 20) | (3u << 18) | (id & 0x3FFFFu);
}

bool bus_model_wins(uint32_t a, uint32_t b)
{
    return arbitration_key(a) < arbitration_key(b);
}

/* Two frames with one identifier cannot be told apart on the wire; here the older goes first. */
static bool goes_before(const bus_entry *a, const bus_entry *b)
{
    if (a->frame.id != b->frame.id) {
        return bus_model_wins(a->frame.id, b->frame.id);
    }
    return a->offered != b->offered ? a->offered < b->offered : a->tag < b->tag;
}

void bus_model_init(bus_model *bus, uint32_t rate, uint64_t ticks_per_second)
{
    memset(bus, 0, sizeof *bus);
    bus->rate = rate;
    bus->ticks_per_second = ticks_per_second;
}

bool bus_model_put(bus_model *bus, const locum_frame *frame, uint32_t tag, uint64_t now)
{
    for (size_t i = 0; i < BUS_MODEL_QUEUE; i++) {
        bus_entry *entry = &bus->queue[i];

        if (!entry->used) {
            entry->frame = *frame;
            entry->offered = now;
            entry->tag = tag;
            entry->used = true;
            return true;
        }
    }
    return false;
}

bool bus_model_take_back(bus_model *bus, uint32_t tag)
{
    for (size_t i = 0; i < BUS_MODEL_QUEUE; i++) {
        if (bus->queue[i].used && bus->queue[i].tag == tag) {
            bus->queue[i].used = false;
            return true;
        }
    }
    return false;
}

bool bus_model_waits(const bus_model *bus, uint32_t tag)
{
    if (bus->sending && bus->current.entry.tag == tag) {
        return true;
    }
    for (size_t i = 0; i < BUS_MODEL_QUEUE; i++) {
        if (bus->queue[i].used && bus->queue[i].tag == tag) {
            return true;
        }
    }
    return false;
}

static uint64_t ticks(const bus_model *bus, uint32_t bits)
{
    return (bits * bus->ticks_per_second + bus->rate - 1u) / bus->rate;
}

bool bus_model_finish(bus_model *bus, uint64_t now, bus_report *report)
{
    if (!bus->sending || now < bus->current.end) {
        return false;
    }
    bus->sending = false;
    *report = bus->current;
    return true;
}

void bus_model_start(bus_model *bus, uint64_t now)
{
    bus_entry *winner = NULL;

    if (bus->sending || now < bus->idle || now < bus->blocked_until) {
        return;
    }
    for (size_t i = 0; i < BUS_MODEL_QUEUE; i++) {
        bus_entry *entry = &bus->queue[i];

        if (entry->used && (winner == NULL || goes_before(entry, winner))) {
            winner = entry;
        }
    }
    if (winner != NULL) {
        const uint32_t bits = bus_model_frame_bits(&winner->frame);

        bus->sending = true;
        bus->current.entry = *winner;
        bus->current.start = now;
        bus->current.end = now + ticks(bus, bits);
        bus->idle = now + ticks(bus, bits + 3u);
        winner->used = false;
    }
}

bool bus_model_next(const bus_model *bus, uint64_t now, uint64_t *at)
{
    uint64_t next = 0;
    bool any = bus->sending;

    if (bus->sending) {
        next = bus->current.end;
    } else {
        for (size_t i = 0; i < BUS_MODEL_QUEUE; i++) {
            any = any || bus->queue[i].used;
        }
        next = bus->idle > bus->blocked_until ? bus->idle : bus->blocked_until;
    }
    *at = next > now ? next : now;
    return any;
}
