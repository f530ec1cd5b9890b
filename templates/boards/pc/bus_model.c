#include "bus_model.h"

#include <string.h>

/* Counts bits and stuff bits and runs the CRC of ISO 11898-1 over the bits before it. */
typedef struct {
    uint32_t bits;
    uint32_t crc;
    unsigned run; /* equal bits in a row, stuff bits included */
    unsigned last;
    bool stuffed; /* a stuff bit came last */
} bit_counter;

#define ID_MARKS (LOCUM_ID_EXTENDED | LOCUM_ID_FD | LOCUM_ID_SWITCH_RATE)

static void count_bit(bit_counter *counter, unsigned bit)
{
    counter->bits++;
    if (bit == counter->last) {
        counter->run++;
    } else {
        counter->run = 1;
        counter->last = bit;
    }
    counter->stuffed = counter->run == 5u;
    if (counter->stuffed) {
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

static void count_data(bit_counter *counter, const locum_frame *frame)
{
    for (unsigned i = 0; i < frame->length; i++) {
        count_covered(counter, frame->data[i], 8);
    }
}

static bus_frame_bits classic_bits(const locum_frame *frame)
{
    bit_counter counter = {0, 0, 0, 2, false};
    const uint32_t id = frame->id & ~ID_MARKS;
    bus_frame_bits bits = {0, 0};
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
    count_data(&counter, frame);
    crc = counter.crc;
    for (unsigned i = 15; i-- > 0u;) {
        count_bit(&counter, (unsigned)((crc >> i) & 1u));
    }
    bits.nominal = counter.bits + 10u; /* CRC delimiter, ACK slot and delimiter, 7 bits of end */
    return bits;
}

/* The data length code: 9 to 15 stand for 12, 16, 20, 24, 32, 48 and 64 bytes. */
static uint32_t length_code(uint8_t length)
{
    if (length <= 8u) {
        return length;
    }
    return length <= 24u ? 9u + (length - 12u) / 4u : 11u + length / 16u;
}

/*
 * The CRC field begins with a fixed stuff bit, so no other follows the last bit of the data; its
 * length does not depend on the CRC.
 */
static bus_frame_bits fd_bits(const locum_frame *frame)
{
    bit_counter counter = {0, 0, 0, 2, false};
    const uint32_t id = frame->id & ~ID_MARKS;
    const bool switches = (frame->id & LOCUM_ID_SWITCH_RATE) != 0u;
    bus_frame_bits bits = {0, 0};
    uint32_t slow;

    count_covered(&counter, 0, 1); /* start of frame */
    if ((frame->id & LOCUM_ID_EXTENDED) != 0u) {
        count_covered(&counter, id >> 18, 11);
        count_covered(&counter, 3, 2); /* SRR, IDE recessive */
        count_covered(&counter, id & 0x3FFFFu, 18);
        count_covered(&counter, 0, 1); /* RRS */
    } else {
        count_covered(&counter, id, 11);
        count_covered(&counter, 0, 2); /* RRS, IDE */
    }
    count_covered(&counter, 2, 2); /* FDF recessive, res dominant */
    count_covered(&counter, switches ? 1u : 0u, 1);
    slow = counter.bits;
    count_covered(&counter, length_code(frame->length), 5); /* ESI dominant, DLC */
    count_data(&counter, frame);
    if (counter.stuffed) {
        counter.bits--;
    }
    /* stuff count 4, CRC 17 or 21, fixed stuff bits 6 or 7, delimiter 1 */
    bits.fast = counter.bits - slow + (frame->length <= 16u ? 28u : 33u);
    bits.nominal = slow + 9u; /* ACK slot and delimiter, 7 bits of end */
    if (!switches) {
        bits.nominal += bits.fast;
        bits.fast = 0;
    }
    return bits;
}

bus_frame_bits bus_model_frame_bits(const locum_frame *frame)
{
    return (frame->id & LOCUM_ID_FD) != 0u ? fd_bits(frame) : classic_bits(frame);
}

/* The identifier as the wire sees it: base, then RTR or SRR, IDE, then the extension. */
static uint32_t arbitration_key(uint32_t id)
{
    const bool extended = (id & LOCUM_ID_EXTENDED) != 0u;

    id &= ~ID_MARKS;
    if (!extended) {
        return id << 20;
    }
    return ((id >> 18) << 20) | (3u << 18) | (id & 0x3FFFFu);
}

bool bus_model_wins(uint32_t a, uint32_t b)
{
    return arbitration_key(a) < arbitration_key(b);
}

/* Two frames with one identifier cannot be told apart on the wire; here the older goes first. */
static bool goes_before(const bus_entry *a, const bus_entry *b)
{
    if (arbitration_key(a->frame.id) != arbitration_key(b->frame.id)) {
        return bus_model_wins(a->frame.id, b->frame.id);
    }
    return a->offered != b->offered ? a->offered < b->offered : a->tag < b->tag;
}

void bus_model_init(bus_model *bus, uint32_t rate, uint64_t ticks_per_second)
{
    memset(bus, 0, sizeof *bus);
    bus->rate = rate;
    bus->data_rate = rate;
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
            if (i >= bus->end) {
                bus->end = i + 1u;
            }
            return true;
        }
    }
    return false;
}

static void leave_queue(bus_model *bus, bus_entry *entry)
{
    entry->used = false;
    while (bus->end > 0u && !bus->queue[bus->end - 1u].used) {
        bus->end--;
    }
}

bool bus_model_take_back(bus_model *bus, uint32_t tag)
{
    for (size_t i = 0; i < bus->end; i++) {
        if (bus->queue[i].used && bus->queue[i].tag == tag) {
            leave_queue(bus, &bus->queue[i]);
            return true;
        }
    }
    return false;
}

bool bus_model_withdraw(bus_model *bus, uint32_t below, bus_entry *entry)
{
    for (size_t i = 0; i < bus->end; i++) {
        if (bus->queue[i].used && bus->queue[i].tag < below) {
            leave_queue(bus, &bus->queue[i]);
            *entry = bus->queue[i];
            return true;
        }
    }
    return false;
}

static bool held(const bus_model *bus, const bus_entry *entry, uint64_t now)
{
    return entry->tag < bus->held_below && now < bus->held_until;
}

bool bus_model_waits(const bus_model *bus, uint32_t tag)
{
    if (bus->sending && bus->current.entry.tag == tag) {
        return true;
    }
    for (size_t i = 0; i < bus->end; i++) {
        if (bus->queue[i].used && bus->queue[i].tag == tag) {
            return true;
        }
    }
    return false;
}

/* Rounded up once, over both rates. 750 bits, 8 Mbit/s and 10^9 ticks a second keep below 2^63. */
static uint64_t ticks(const bus_model *bus, bus_frame_bits bits)
{
    const uint64_t both = (uint64_t)bus->rate * bus->data_rate;
    const uint64_t bit_rates =
        (uint64_t)bits.nominal * bus->data_rate + (uint64_t)bits.fast * bus->rate;

    return (bit_rates * bus->ticks_per_second + both - 1u) / both;
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
    for (size_t i = 0; i < bus->end; i++) {
        bus_entry *entry = &bus->queue[i];

        if (entry->used && !held(bus, entry, now) &&
            (winner == NULL || goes_before(entry, winner))) {
            winner = entry;
        }
    }
    if (winner != NULL) {
        bus_frame_bits bits = bus_model_frame_bits(&winner->frame);

        bus->sending = true;
        bus->current.entry = *winner;
        bus->current.start = now;
        bus->current.end = now + ticks(bus, bits);
        bits.nominal += 3u;
        bus->idle = now + ticks(bus, bits);
        leave_queue(bus, winner);
    }
}

bool bus_model_next(const bus_model *bus, uint64_t now, uint64_t *at)
{
    uint64_t next = 0;
    bool any = bus->sending;

    if (bus->sending) {
        next = bus->current.end;
    } else {
        bool all_held = true;

        for (size_t i = 0; i < bus->end; i++) {
            any = any || bus->queue[i].used;
            all_held = all_held && (!bus->queue[i].used || held(bus, &bus->queue[i], now));
        }
        next = bus->idle > bus->blocked_until ? bus->idle : bus->blocked_until;
        if (all_held && next < bus->held_until) {
            next = bus->held_until;
        }
    }
    *at = next > now ? next : now;
    return any;
}
