/* An MCP2518FD between the RP2040's SPI and a bus. */
#include "spi_device.h"

#include "board.h"
#include "mcp2518fd_chip.h"
#include "report.h"

#define CRYSTAL_START_NS 1000000u

typedef struct {
    mcp2518fd_chip chip;
    unsigned bus;
    char name[4];
    mcp2518fd_slot known[MCP2518FD_OBJECTS]; /* the queue as last seen */
    int on_wire;
} mcp2518fd;

static mcp2518fd all[SURROUNDINGS_BUSES];

/* Notes what waits, prints what was taken back, tells the bus of a frame that was cut off. */
static void follow(mcp2518fd *device)
{
    if (device->on_wire >= 0 && device->chip.on_wire < 0) {
        device->known[device->on_wire].waits = false;
        device->on_wire = -1;
        surroundings_cut(&the_board.around, device->bus); /* and prints it */
    }
    for (unsigned i = 0; i < MCP2518FD_OBJECTS; i++) {
        const mcp2518fd_slot *slot = &device->chip.slots[i];
        mcp2518fd_slot *known = &device->known[i];

        if (known->waits && !slot->waits) {
            surroundings_print(device->bus, &known->frame, known->asked_at, NULL);
        } else if (!known->waits && slot->waits) {
            board_counts_frame();
        }
        *known = *slot;
    }
    if (device->chip.complaint != NULL) {
        report_fault(device->name, "%s", device->chip.complaint);
        device->chip.complaint = NULL;
    }
}

/* ---- as the bus sees it ---- */

static bool fits(mcp2518fd *device)
{
    const bus_model *wire = &the_board.around.buses[device->bus].wire;
    char reason[96];

    if (mcp2518fd_fits(&device->chip, wire->rate, wire->data_rate, reason, sizeof reason)) {
        return true;
    }
    report_fault(device->name, "%s", reason);
    return false;
}

static int candidate(void *owner, locum_frame *frame, uint64_t *asked_at)
{
    mcp2518fd *device = owner;
    const int slot = mcp2518fd_candidate(&device->chip);

    if (slot < 0 || !fits(device)) {
        return -1;
    }
    *frame = device->chip.slots[slot].frame;
    *asked_at = device->chip.slots[slot].asked_at;
    return slot;
}

static void started(void *owner, int place)
{
    mcp2518fd *device = owner;

    device->chip.on_wire = place;
    device->on_wire = place;
}

static void sent(void *owner, int place)
{
    mcp2518fd *device = owner;

    device->known[place].waits = false;
    device->on_wire = -1;
    mcp2518fd_sent(&device->chip, place);
}

static void heard(void *owner, const locum_frame *frame)
{
    mcp2518fd *device = owner;

    if (fits(device)) {
        mcp2518fd_heard(&device->chip, frame);
    }
}

static bool on_bus(const void *owner)
{
    return mcp2518fd_on_bus(&((const mcp2518fd *)owner)->chip);
}

static unsigned awaits(const void *owner)
{
    const mcp2518fd_chip *chip = &((const mcp2518fd *)owner)->chip;

    return mcp2518fd_is_off(chip)          ? RECESSIVE_TO_RECOVER
           : mcp2518fd_wants_to_join(chip) ? RECESSIVE_TO_JOIN
                                           : 0u;
}

static void has_seen(void *owner, unsigned runs)
{
    mcp2518fd_chip *chip = &((mcp2518fd *)owner)->chip;

    if (runs == RECESSIVE_TO_RECOVER) {
        mcp2518fd_count_errors(chip, 0);
    } else {
        mcp2518fd_join(chip);
    }
}

static void counts_errors(void *owner, unsigned transmit_errors)
{
    mcp2518fd_count_errors(&((mcp2518fd *)owner)->chip, transmit_errors);
}

static const station can_station = {candidate, started, sent,     heard,
                                    on_bus,    awaits,  has_seen, counts_errors};

/* ---- as the SPI sees it ---- */

static void *make(unsigned bus, uint32_t crystal_hz)
{
    mcp2518fd *device = &all[bus];

    *device = (mcp2518fd){.bus = bus, .name = {(char)('0' + bus)}, .on_wire = -1};
    mcp2518fd_power_on(&device->chip, crystal_hz, CRYSTAL_START_NS);
    surroundings_attach(&the_board.around, bus, &can_station, device);
    return device;
}

static void select_chip(void *owner, bool selected, uint64_t now)
{
    mcp2518fd_select(&((mcp2518fd *)owner)->chip, selected, now);
    follow(owner);
}

static uint8_t exchange(void *owner, uint8_t in, uint64_t now)
{
    const uint8_t out = mcp2518fd_exchange(&((mcp2518fd *)owner)->chip, in, now);

    follow(owner);
    return out;
}

static bool int_low(const void *owner)
{
    return mcp2518fd_int_low(&((const mcp2518fd *)owner)->chip);
}

static void power(void *owner, uint64_t now)
{
    mcp2518fd *device = owner;

    mcp2518fd_power_on(&device->chip, device->chip.crystal_hz, now + CRYSTAL_START_NS);
    follow(device);
}

static void print_waiting(const void *owner)
{
    const mcp2518fd *device = owner;

    for (unsigned i = 0; i < MCP2518FD_OBJECTS; i++) {
        if (device->known[i].waits) {
            surroundings_print(device->bus, &device->known[i].frame, device->known[i].asked_at,
                               NULL);
        }
    }
}

const spi_device_kind mcp2518fd_device = {
    .name = "mcp2518fd",
    .most_hz = 17000000u,
    .make = make,
    .select = select_chip,
    .exchange = exchange,
    .int_low = int_low,
    .power = power,
    .print_waiting = print_waiting,
};
