/*
 * A SAM3X8E without its core, after its datasheet (chapters named at the parts, from memory): power
 * management controller, ports, the first timer counter, watchdog, reset controller, flash wait
 * states, both CAN controllers. Registers that are not modelled are reported.
 */
#include <string.h>

#include <unicorn/unicorn.h>

#include "board.h"
#include "report.h"
#include "sam3x_can.h"

#define NS_PER_SECOND 1000000000u
#define SLOW_HZ 32768u
#define RC_HZ 4000000u
#define CRYSTAL_HZ 12000000u
#define MOST_HZ 84000000u
#define WAIT_STATES_AT_MOST_HZ 4u

#define PORTS 4u
#define CONTROLLERS 2u
#define IRQ_PIO_A 11u
#define IRQ_TC0 27u
#define IRQ_CAN0 43u

/* "Parallel Input/Output Controller" */
typedef struct {
    uint32_t pio; /* PSR */
    uint32_t out; /* OSR */
    uint32_t put; /* ODSR */
    uint32_t in;  /* levels from outside */
    uint32_t driven;
    uint32_t enabled; /* IMR */
    uint32_t changed; /* ISR */
    uint32_t pulled;  /* PUSR, inverted: 1 is a pull-up */
    uint32_t peripheral_b;
} port;

typedef struct {
    /* "Power Management Controller" */
    uint32_t mor;
    uint32_t pllar;
    uint32_t mckr;
    uint32_t clocks[2];
    uint64_t crystal_ready_at;
    uint64_t pll_ready_at;
    uint64_t master_ready_at;
    uint32_t wait_states[2];
    port ports[PORTS];
    /* "Timer Counter", channel 0 */
    uint32_t tc_cmr;
    uint32_t tc_rc;
    uint32_t tc_sr;
    uint32_t tc_imr;
    bool tc_runs;
    uint64_t tc_from; /* when it showed 0 */
    uint64_t tc_compare_at;
    /* "Watchdog Timer", "Reset Controller" */
    uint32_t wdt_mr;
    bool wdt_written;
    uint64_t wdt_expires_at;
    uint32_t reset_type;
    sam3x_can cans[CONTROLLERS];
} sam3x;

static sam3x the_chip;

static uint64_t main_hz(const sam3x *chip)
{
    return (chip->mor & 1u << 24) != 0u ? CRYSTAL_HZ : RC_HZ;
}

static uint64_t master_hz(const sam3x *chip)
{
    const uint32_t divider = (chip->mckr >> 4) & 7u;
    uint64_t hz = main_hz(chip);

    switch (chip->mckr & 3u) {
    case 0:
        hz = SLOW_HZ;
        break;
    case 2:
        hz = (chip->pllar & 0xFFu) == 0u
                 ? 0u
                 : hz * (((chip->pllar >> 16) & 0x7FFu) + 1u) / (chip->pllar & 0xFFu);
        break;
    default:
        break;
    }
    return divider == 7u ? hz / 3u : hz >> divider;
}

static uint64_t core_hz(void *owner)
{
    return master_hz(owner);
}

static unsigned wait_states(void *owner)
{
    return ((sam3x *)owner)->wait_states[0];
}

static uint64_t slow_clocks(uint64_t count)
{
    return the_board.around.now + count * NS_PER_SECOND / SLOW_HZ;
}

static void check_clock(const sam3x *chip)
{
    const uint64_t hz = master_hz(chip);

    if (hz > MOST_HZ) {
        report_fault("-", "a master clock of %u Hz", (unsigned)hz);
    }
    for (unsigned bank = 0; bank < 2u; bank++) {
        /* "Embedded Flash Characteristics": about 19 MHz per wait state (from memory) */
        if (hz > (chip->wait_states[bank] + 1u) * 21000000u) {
            report_fault("-", "too few wait states for %u Hz", (unsigned)hz);
        }
    }
}

/* ---- ports ---- */

static uint32_t level_of(const port *port)
{
    const uint32_t outputs = port->pio & port->out;
    const uint32_t undriven = port->pulled & ~port->driven;

    return (port->put & outputs) | ((port->in | undriven) & ~outputs);
}

static void change_port(port *port, uint32_t before)
{
    port->changed |= before ^ level_of(port);
}

static void show_port(const sam3x *chip, unsigned number)
{
    const port *port = &chip->ports[number];

    if (the_board.watching && the_board.watched.port == (char)('A' + number) &&
        (port->pio & port->out & 1u << the_board.watched.bit) != 0u) {
        board_shows(the_board.watched.port, the_board.watched.bit,
                    (level_of(port) >> the_board.watched.bit & 1u) != 0u);
    }
}

static void drive_input(void *owner, unsigned input, bool level)
{
    sam3x *chip = owner;
    const board_pin pin = the_board.inputs[input];
    port *port = &chip->ports[(unsigned)(pin.port - 'A')];
    const uint32_t before = level_of(port);

    port->driven |= 1u << pin.bit;
    port->in = level ? port->in | 1u << pin.bit : port->in & ~(1u << pin.bit);
    change_port(port, before);
}

static uint32_t read_port(sam3x *chip, unsigned number, uint32_t offset)
{
    port *port = &chip->ports[number];
    uint32_t value;

    switch (offset) {
    case 0x08:
        return port->pio;
    case 0x18:
        return port->out;
    case 0x38:
        return port->put;
    case 0x3C:
        return (chip->clocks[0] & 1u << (IRQ_PIO_A + number)) != 0u ? level_of(port) : 0u;
    case 0x48:
        return port->enabled;
    case 0x4C:
        value = port->changed;
        port->changed = 0;
        return value;
    case 0x70:
        return port->peripheral_b;
    default:
        report_fault("-", "port register 0x%02X is not modelled", offset);
        return 0;
    }
}

static void write_port(sam3x *chip, unsigned number, uint32_t offset, uint32_t value)
{
    port *port = &chip->ports[number];
    const uint32_t before = level_of(port);

    switch (offset) {
    case 0x00:
        port->pio |= value;
        break;
    case 0x04:
        port->pio &= ~value;
        break;
    case 0x10:
        port->out |= value;
        break;
    case 0x14:
        port->out &= ~value;
        break;
    case 0x30:
        port->put |= value;
        break;
    case 0x34:
        port->put &= ~value;
        break;
    case 0x40:
        port->enabled |= value;
        break;
    case 0x44:
        port->enabled &= ~value;
        break;
    case 0x60:
        port->pulled &= ~value;
        break;
    case 0x64:
        port->pulled |= value;
        break;
    case 0x70:
        port->peripheral_b = value;
        break;
    default:
        report_fault("-", "port register 0x%02X is not modelled", offset);
        break;
    }
    change_port(port, before);
    show_port(chip, number);
}

static bool is_wired(const sam3x *chip, unsigned number, unsigned first)
{
    const uint32_t pins = 3u << first;

    return (chip->ports[number].pio & pins) == 0u &&
           (chip->ports[number].peripheral_b & pins) == 0u;
}

/* ---- timer ---- */

static uint64_t timer_hz(const sam3x *chip)
{
    return master_hz(chip) / 2u;
}

static uint32_t timer_count(const sam3x *chip)
{
    return chip->tc_runs
               ? (uint32_t)((the_board.around.now - chip->tc_from) * timer_hz(chip) / NS_PER_SECOND)
               : 0u;
}

static void plan_compare(sam3x *chip)
{
    const uint32_t ahead = chip->tc_rc - timer_count(chip);

    chip->tc_compare_at =
        !chip->tc_runs ? UINT64_MAX
                       : the_board.around.now +
                             ((ahead == 0u ? 0x100000000u : (uint64_t)ahead) * NS_PER_SECOND +
                              timer_hz(chip) - 1u) /
                                 timer_hz(chip);
}

static uint32_t read_timer(sam3x *chip, uint32_t offset)
{
    uint32_t value;

    switch (offset) {
    case 0x10:
        return timer_count(chip);
    case 0x1C:
        return chip->tc_rc;
    case 0x20:
        value = chip->tc_sr;
        chip->tc_sr = 0;
        return value;
    default:
        report_fault("-", "timer register 0x%02X is not modelled", offset);
        return 0;
    }
}

static void write_timer(sam3x *chip, uint32_t offset, uint32_t value)
{
    if ((chip->clocks[0] & 1u << IRQ_TC0) == 0u) {
        return;
    }
    switch (offset) {
    case 0x00:
        if (value == 5u) {
            chip->tc_runs = true;
            chip->tc_from = the_board.around.now;
            board_clock_starts(the_board.around.now);
            if (chip->tc_cmr != 1u << 15) {
                report_fault("-", "a timer mode that is not modelled: 0x%08X", chip->tc_cmr);
            }
        }
        break;
    case 0x04:
        chip->tc_cmr = value;
        break;
    case 0x1C:
        chip->tc_rc = value;
        break;
    case 0x24:
        chip->tc_imr |= value;
        break;
    case 0x28:
        chip->tc_imr &= ~value;
        break;
    default:
        report_fault("-", "timer register 0x%02X is not modelled", offset);
        break;
    }
    plan_compare(chip);
}

/* ---- power management, flash, watchdog, reset ---- */

static uint32_t read_system(sam3x *chip, uint32_t address)
{
    const uint64_t now = the_board.around.now;

    switch (address) {
    case 0x400E0620:
        return chip->mor;
    case 0x400E0630:
        return chip->mckr;
    case 0x400E0668:
        return ((chip->mor & 1u) != 0u && now >= chip->crystal_ready_at ? 1u << 0 : 0u) |
               ((chip->pllar & 0xFFu) != 0u && now >= chip->pll_ready_at ? 1u << 1 : 0u) |
               (now >= chip->master_ready_at ? 1u << 3 : 0u) | 1u << 16 | 1u << 17;
    case 0x400E1A04:
        return chip->reset_type << 8;
    case 0x400E1A54:
        return chip->wdt_mr;
    default:
        report_fault("-", "register 0x%08X is not modelled", address);
        return 0;
    }
}

static void write_mor(sam3x *chip, uint32_t value)
{
    const uint64_t now = the_board.around.now;

    if ((value >> 16 & 0xFFu) != 0x37u) {
        report_fault("-", "the main oscillator's key is wrong");
        return;
    }
    if ((value & 1u) != 0u && (chip->mor & 1u) == 0u) {
        chip->crystal_ready_at = slow_clocks(8u * (value >> 8 & 0xFFu));
    }
    if ((value & 1u << 24) != 0u && ((value & 1u) == 0u || now < chip->crystal_ready_at)) {
        report_fault("-", "a crystal is selected before it swings");
    }
    chip->mor = value & ~(0xFFu << 16);
}

static void write_mckr(sam3x *chip, uint32_t value)
{
    if (((chip->mckr ^ value) & 3u) != 0u && ((chip->mckr ^ value) & 0x70u) != 0u) {
        report_fault("-", "divider and source of the master clock change at once");
    }
    if ((value & 3u) == 2u && the_board.around.now < chip->pll_ready_at) {
        report_fault("-", "a PLL is selected before it has locked");
    }
    chip->mckr = value;
    chip->master_ready_at = the_board.around.now + 1000u;
    check_clock(chip);
}

static void write_watchdog(sam3x *chip, uint32_t value)
{
    if (chip->wdt_written) {
        report_fault("-", "the watchdog's mode is written twice");
        return;
    }
    chip->wdt_written = true;
    chip->wdt_mr = value;
    chip->wdt_expires_at =
        (value & 1u << 15) != 0u ? UINT64_MAX : slow_clocks(128u * (value & 0xFFFu));
}

static void write_system(sam3x *chip, uint32_t address, uint32_t value)
{
    switch (address) {
    case 0x400E0610:
        chip->clocks[0] |= value;
        break;
    case 0x400E0620:
        write_mor(chip, value);
        break;
    case 0x400E0628:
        if ((value & 1u << 29) == 0u) {
            report_fault("-", "bit 29 of the PLL's register has to be 1");
        }
        chip->pllar = value;
        chip->pll_ready_at = slow_clocks(value >> 8 & 0x3Fu);
        break;
    case 0x400E0630:
        write_mckr(chip, value);
        break;
    case 0x400E0700:
        chip->clocks[1] |= value;
        break;
    case 0x400E0704:
        chip->clocks[1] &= ~value;
        break;
    case 0x400E0A00:
    case 0x400E0C00:
        chip->wait_states[address == 0x400E0C00] = value >> 8 & 0xFu;
        break;
    case 0x400E1A50:
        if (value == 0xA5000001u) {
            chip->wdt_expires_at = slow_clocks(128u * (chip->wdt_mr & 0xFFFu));
        } else {
            report_fault("-", "the watchdog's key is wrong");
        }
        break;
    case 0x400E1A54:
        write_watchdog(chip, value);
        break;
    default:
        report_fault("-", "register 0x%08X is not modelled", address);
        break;
    }
}

/* ---- the map ---- */

#define IS_PORT(address) ((address) >= 0x400E0E00u && (address) < 0x400E1600u)
#define PORT_NUMBER(address) (((address)-0x400E0E00u) / 0x200u)
#define IS_CAN(address) ((address) >= 0x400B4000u && (address) < 0x400BC000u)
#define CAN_NUMBER(address) (((address)-0x400B4000u) / 0x4000u)
#define IS_TIMER(address) ((address) >= 0x40080000u && (address) < 0x40080040u)

static void know_what_they_stand_on(sam3x *chip)
{
    for (unsigned i = 0; i < CONTROLLERS; i++) {
        chip->cans[i].clocked = (chip->clocks[1] & 1u << (IRQ_CAN0 + i - 32u)) != 0u;
        chip->cans[i].wired = i == 0u ? is_wired(chip, 0, 0) : is_wired(chip, 1, 14);
        chip->cans[i].master_hz = master_hz(chip);
    }
}

static uint32_t read_device(void *owner, uint32_t address, unsigned size)
{
    sam3x *chip = owner;

    if (size != 4u) {
        report_fault("-", "device at 0x%08X accessed by %u bytes", address, size);
    }
    know_what_they_stand_on(chip);
    if (IS_PORT(address)) {
        return read_port(chip, PORT_NUMBER(address), (address - 0x400E0E00u) % 0x200u);
    }
    if (IS_CAN(address)) {
        return sam3x_can_read(&chip->cans[CAN_NUMBER(address)], (address - 0x400B4000u) % 0x4000u);
    }
    return IS_TIMER(address) ? read_timer(chip, address - 0x40080000u) : read_system(chip, address);
}

static void write_device(void *owner, uint32_t address, uint32_t value, unsigned size)
{
    sam3x *chip = owner;

    if (size != 4u) {
        report_fault("-", "device at 0x%08X accessed by %u bytes", address, size);
    }
    if (IS_PORT(address)) {
        write_port(chip, PORT_NUMBER(address), (address - 0x400E0E00u) % 0x200u, value);
    } else if (IS_CAN(address)) {
        know_what_they_stand_on(chip);
        sam3x_can_write(&chip->cans[CAN_NUMBER(address)], (address - 0x400B4000u) % 0x4000u, value);
    } else if (IS_TIMER(address)) {
        write_timer(chip, address - 0x40080000u, value);
    } else {
        write_system(chip, address, value);
    }
}

/* ---- time ---- */

static void advance(void *owner, uint64_t now)
{
    sam3x *chip = owner;

    know_what_they_stand_on(chip);
    surroundings_advance(&the_board.around, now);
    if (now >= chip->tc_compare_at) {
        chip->tc_sr |= 1u << 4;
        plan_compare(chip);
    }
}

static uint64_t next(void *owner)
{
    const sam3x *chip = owner;
    uint64_t next = surroundings_next(&the_board.around);

    next = chip->tc_compare_at < next ? chip->tc_compare_at : next;
    return chip->wdt_expires_at < next ? chip->wdt_expires_at : next;
}

static void lines(void *owner, uint32_t words[CHIP_IRQ_WORDS])
{
    const sam3x *chip = owner;

    for (unsigned i = 0; i < PORTS; i++) {
        words[0] |=
            (chip->ports[i].changed & chip->ports[i].enabled) != 0u ? 1u << (IRQ_PIO_A + i) : 0u;
    }
    words[0] |= (chip->tc_sr & chip->tc_imr) != 0u ? 1u << IRQ_TC0 : 0u;
    for (unsigned i = 0; i < CONTROLLERS; i++) {
        words[1] |= sam3x_can_requests(&chip->cans[i]) ? 1u << (IRQ_CAN0 + i - 32u) : 0u;
    }
}

static bool wants_reset(void *owner, locum_reset_cause *cause)
{
    sam3x *chip = owner;

    if (the_board.around.now >= chip->wdt_expires_at) {
        report_fault("-", "the watchdog has expired");
        *cause = LOCUM_RESET_WATCHDOG;
        return true;
    }
    return surroundings_take_reset(&the_board.around, cause);
}

static void reset(void *owner, locum_reset_cause cause)
{
    sam3x *chip = owner;

    for (unsigned i = 0; i < CONTROLLERS; i++) {
        sam3x_can_reset(&chip->cans[i], i);
    }
    for (unsigned i = 0; i < PORTS; i++) {
        const uint32_t in = chip->ports[i].in;
        const uint32_t driven = chip->ports[i].driven;

        chip->ports[i] =
            (port){.pio = UINT32_MAX, .pulled = UINT32_MAX, .in = in, .driven = driven};
    }
    chip->mor = 1u << 3;
    chip->pllar = 0;
    chip->mckr = 1u;
    memset(chip->clocks, 0, sizeof chip->clocks);
    memset(chip->wait_states, 0, sizeof chip->wait_states);
    chip->tc_runs = false;
    chip->tc_sr = 0;
    chip->tc_imr = 0;
    chip->tc_compare_at = UINT64_MAX;
    chip->wdt_written = false;
    chip->wdt_mr = 0x3FFF2FFFu;
    chip->wdt_expires_at = slow_clocks(128u * 0xFFFu);
    chip->reset_type = cause == LOCUM_RESET_WATCHDOG ? 2u : 0u;
    the_board.lives = false;
}

void *board_chip_power_on(void)
{
    the_board.around.pins = (surroundings_pins){drive_input, &the_chip};
    reset(&the_chip, LOCUM_RESET_POWER);
    for (unsigned i = 0; i < CONTROLLERS && i < the_board.around.count; i++) {
        sam3x_can_attach(&the_chip.cans[i]);
    }
    return &the_chip;
}

bool board_option(const char *name, const char *text)
{
    (void)name;
    (void)text;
    return false;
}

void board_print_waiting(void)
{
    for (unsigned i = 0; i < CONTROLLERS && i < the_board.around.count; i++) {
        sam3x_can_print_waiting(&the_chip.cans[i]);
    }
}

const chip_kind board_chip = {
    .cpu_model = UC_CPU_ARM_CORTEX_M3,
    .regions = {{0x00080000u, 0x80000u, false, false},
                {0x20070000u, 0x18000u, false, true},
                {0x40080000u, 0x40000u, true, false},
                {0x400E0000u, 0x2000u, true, false}},
    .vectors = 0x00080000u,
    .core_hz = core_hz,
    .wait_states = wait_states,
    .read = read_device,
    .write = write_device,
    .advance = advance,
    .next = next,
    .lines = lines,
    .wants_reset = wants_reset,
    .reset = reset,
};
