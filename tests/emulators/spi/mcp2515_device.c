/* An MCP2515 between a board's SPI and a bus. */
#include "spi_device.h"

#include "board.h"
#include "mcp2515_chip.h"
#include "mcp2515_map.h"
#include "mcp2515_timing.h"
#include "report.h"

#define CRYSTAL_START_NS 1000000u

typedef struct {
    mcp2515_chip chip;
    unsigned bus;
    char name[4];
    bool waits[MCP2515_BUFFERS]; /* as last seen; then what waits */
    locum_frame frames[MCP2515_BUFFERS];
    uint64_t asked_at[MCP2515_BUFFERS];
    int on_wire;
} mcp2515;

static mcp2515 all[SURROUNDINGS_BUSES];

static bool is_asked(const mcp2515 *device, int buffer)
{
    return (device->chip.reg[R_TXB0CTRL + TXB_STEP * buffer] & TXREQ) != 0;
}

/* Notes what waits, prints what was taken back, tells the bus of a frame that was cut off. */
static void follow(mcp2515 *device)
{
    if (device->on_wire >= 0 && device->chip.on_wire < 0) {
        device->waits[device->on_wire] = false;
        device->on_wire = -1;
        surroundings_cut(&the_board.around, device->bus); /* and prints it */
    }
    for (int i = 0; i < MCP2515_BUFFERS; i++) {
        if (device->waits[i] && !is_asked(device, i)) {
            surroundings_print(device->bus, &device->frames[i], device->asked_at[i], NULL);
        } else if (!device->waits[i] && is_asked(device, i)) {
            mcp2515_frame_in(&device->chip, i, &device->frames[i]);
            device->asked_at[i] = device->chip.requested_at[i];
            board_counts_frame();
        }
        device->waits[i] = is_asked(device, i);
    }
    if (device->chip.complaint != NULL) {
        report_fault(device->name, "%s", device->chip.complaint);
        device->chip.complaint = NULL;
    }
}

/* ---- as the bus sees it ---- */

static bool fits(mcp2515 *device)
{
    char reason[80];

    if (mcp2515_timing_fits(&device->chip, the_board.around.buses[device->bus].wire.rate, reason,
                            sizeof reason)) {
        return true;
    }
    report_fault(device->name, "%s", reason);
    return false;
}

static int candidate(void *owner, locum_frame *frame, uint64_t *asked_at)
{
    mcp2515 *device = owner;
    const int buffer = mcp2515_candidate(&device->chip);

    if (buffer < 0 || !fits(device)) {
        return -1;
    }
    mcp2515_frame_in(&device->chip, buffer, frame);
    *asked_at = device->chip.requested_at[buffer];
    return buffer;
}

static void started(void *owner, int place)
{
    mcp2515 *device = owner;

    device->chip.on_wire = place;
    device->on_wire = place;
}

static void sent(void *owner, int place)
{
    mcp2515 *device = owner;

    device->waits[place] = false;
    device->on_wire = -1;
    mcp2515_sent(&device->chip, place);
}

static void heard(void *owner, const locum_frame *frame)
{
    mcp2515 *device = owner;

    if (fits(device)) {
        mcp2515_heard(&device->chip, frame, false);
    }
}

static bool on_bus(const void *owner)
{
    return mcp2515_on_bus(&((const mcp2515 *)owner)->chip);
}

static unsigned awaits(const void *owner)
{
    const mcp2515_chip *chip = &((const mcp2515 *)owner)->chip;

    return mcp2515_is_off(chip)          ? RECESSIVE_TO_RECOVER
           : mcp2515_wants_to_join(chip) ? RECESSIVE_TO_JOIN
                                         : 0u;
}

static void has_seen(void *owner, unsigned runs)
{
    mcp2515_chip *chip = &((mcp2515 *)owner)->chip;

    if (runs == RECESSIVE_TO_RECOVER) {
        mcp2515_count_errors(chip, 0);
    } else {
        mcp2515_join(chip);
    }
}

static void counts_errors(void *owner, unsigned transmit_errors)
{
    mcp2515_count_errors(&((mcp2515 *)owner)->chip, transmit_errors);
}

static const station can_station = {candidate, started, sent,     heard,
                                    on_bus,    awaits,  has_seen, counts_errors};

/* ---- as the SPI sees it ---- */

static void *make(unsigned bus, uint32_t crystal_hz)
{
    mcp2515 *device = &all[bus];

    *device = (mcp2515){.bus = bus, .name = {(char)('0' + bus)}, .on_wire = -1};
    mcp2515_power_on(&device->chip, crystal_hz, CRYSTAL_START_NS);
    surroundings_attach(&the_board.around, bus, &can_station, device);
    return device;
}

static void select_chip(void *owner, bool selected, uint64_t now)
{
    mcp2515_select(&((mcp2515 *)owner)->chip, selected, now);
    follow(owner);
}

static uint8_t exchange(void *owner, uint8_t in, uint64_t now)
{
    const uint8_t out = mcp2515_exchange(&((mcp2515 *)owner)->chip, in, now);

    follow(owner);
    return out;
}

static bool int_low(const void *owner)
{
    return mcp2515_int_low(&((const mcp2515 *)owner)->chip);
}

static void power(void *owner, uint64_t now)
{
    mcp2515 *device = owner;

    mcp2515_power_on(&device->chip, device->chip.crystal_hz, now + CRYSTAL_START_NS);
    follow(device);
}

static void print_waiting(const void *owner)
{
    const mcp2515 *device = owner;

    for (int i = 0; i < MCP2515_BUFFERS; i++) {
        if (device->waits[i]) {
            surroundings_print(device->bus, &device->frames[i], device->asked_at[i], NULL);
        }
    }
}

const spi_device_kind mcp2515_device = {
    .name = "mcp2515",
    .most_hz = 10000000u,
    .make = make,
    .select = select_chip,
    .exchange = exchange,
    .int_low = int_low,
    .power = power,
    .print_waiting = print_waiting,
};
