/*
 * An RP2040 without its core, after its datasheet and the vendor's published headers (pico-sdk,
 * hardware_regs; named at the parts): clocks, resets, power-on state machine, pins, SPI 0, timer,
 * watchdog, flash interface, and the part of the boot ROM that starts a program. Registers that are
 * not modelled are reported.
 */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <unicorn/unicorn.h>

#include "board.h"
#include "report.h"
#include "rp2040_spi.h"
#include "spi_device.h"
#include "spi_troubles.h"

#define NS_PER_SECOND 1000000000u
#define NS_PER_US 1000u
#define ROSC_HZ 6000000u /* "Ring Oscillator": 1.8 MHz to 12 MHz, about 6 */
#define CRYSTAL_HZ 12000000u
#define MOST_HZ 133000000u

#define PINS 30u
#define IRQ_TIMER_0 0u
#define IRQ_IO_BANK0 13u
#define FUNCTION_SPI 1u
#define FUNCTION_SIO 5u
#define FUNCTION_NULL 31u

#define ROM_VECTORS 0x00000000u
#define BOOT2_AT 0x20041F00u
#define BOOT2_BYTES 256u
#define SRAM 0x20000000u
#define FLASH 0x10000000u
#define FLASH_BYTES 0x200000u
#define CACHE_LINE 8u

enum {
    RESET_IO_BANK0 = 1 << 5,
    RESET_PADS_BANK0 = 1 << 8,
    RESET_PLL_SYS = 1 << 12,
    RESET_SPI0 = 1 << 16,
    RESET_TIMER = 1 << 21,
    RESET_ALL = 0x01FFFFFF
};

typedef struct {
    /* clocks.h, xosc.h, pll.h, resets.h, psm.h */
    uint32_t ref_ctrl;
    uint32_t sys_ctrl;
    uint32_t peri_ctrl;
    uint32_t xosc_ctrl;
    uint32_t xosc_startup;
    uint64_t crystal_ready_at;
    uint32_t pll_cs;
    uint32_t pll_pwr;
    uint32_t pll_fbdiv;
    uint32_t pll_prim;
    uint64_t pll_ready_at;
    uint32_t resets;
    uint32_t psm_wdsel;
    /* ssi.h */
    uint32_t ssi_ctrlr0;
    uint32_t ssi_ctrlr1;
    uint32_t ssi_enable;
    uint32_t ssi_baudr;
    uint32_t ssi_spi_ctrlr0;
    uint8_t cached[FLASH_BYTES / CACHE_LINE / 8u];
    /* io_bank0.h, pads_bank0.h, sio.h */
    uint32_t functions[PINS];
    uint32_t pads[PINS];
    uint32_t out;
    uint32_t oe;
    uint32_t edges[4];
    uint32_t inte[4];
    uint32_t in;     /* levels from outside */
    uint32_t driven; /* pins that have one */
    /* timer.h, watchdog.h */
    uint32_t alarm;
    bool armed;
    uint64_t alarm_at;
    uint32_t timer_intr;
    uint32_t timer_inte;
    uint64_t timer_from; /* when it showed 0 */
    uint32_t tick;
    uint32_t wd_ctrl;
    uint64_t wd_expires_at;
    uint32_t wd_reason;
    rp2040_spi spi;
} rp2040;

typedef struct {
    const spi_device_kind *kind;
    void *device;
    unsigned cs;
    unsigned interrupt;
    bool selected;
} attached;

static rp2040 the_chip;
static attached controllers[SURROUNDINGS_BUSES];
static unsigned controller_count;
static spi_troubles troubles;

/* ---- clocks ---- */

static bool crystal_runs(const rp2040 *chip)
{
    return chip->xosc_ctrl == 0x00FABAA0u && the_board.around.now >= chip->crystal_ready_at;
}

static uint64_t vco_hz(const rp2040 *chip)
{
    const uint32_t divider = chip->pll_cs & 0x3Fu;

    return divider == 0u ? 0u : (uint64_t)CRYSTAL_HZ / divider * chip->pll_fbdiv;
}

static bool pll_locks(const rp2040 *chip)
{
    const uint64_t hz = vco_hz(chip);

    return crystal_runs(chip) && (chip->resets & RESET_PLL_SYS) == 0u &&
           (chip->pll_pwr & 0x21u) == 0u && hz >= 750000000u && hz <= 1600000000u &&
           the_board.around.now >= chip->pll_ready_at;
}

static uint64_t pll_hz(const rp2040 *chip)
{
    const uint32_t first = (chip->pll_prim >> 16) & 7u;
    const uint32_t second = (chip->pll_prim >> 12) & 7u;

    return !pll_locks(chip) || (chip->pll_pwr & 8u) != 0u || first == 0u || second == 0u
               ? 0u
               : vco_hz(chip) / first / second;
}

static uint64_t ref_hz(const rp2040 *chip)
{
    return (chip->ref_ctrl & 3u) == 0u ? ROSC_HZ : crystal_runs(chip) ? CRYSTAL_HZ : 0u;
}

static uint64_t sys_hz(const rp2040 *chip)
{
    return (chip->sys_ctrl & 1u) == 0u ? ref_hz(chip) : pll_hz(chip);
}

static uint64_t core_hz(void *owner)
{
    return sys_hz(owner);
}

static unsigned wait_states(void *owner)
{
    (void)owner;
    return 0;
}

static void check_clock(const rp2040 *chip)
{
    if (sys_hz(chip) > MOST_HZ) {
        report_fault("-", "a system clock of %" PRIu64 " Hz", sys_hz(chip));
    }
    if ((chip->ref_ctrl & 3u) == 1u || (chip->ref_ctrl & 3u) == 3u ||
        (chip->sys_ctrl & 0xE0u) != 0u) {
        report_fault("-", "a source of a clock that is not modelled");
    }
}

/* Of the timer and the watchdog. */
static bool ticks(const rp2040 *chip)
{
    return (chip->tick & 1u << 9) != 0u;
}

static uint64_t tick_ns(const rp2040 *chip)
{
    const uint64_t hz = ref_hz(chip);

    return hz == 0u ? NS_PER_US : (uint64_t)NS_PER_SECOND * (chip->tick & 0x1FFu) / hz;
}

/* ---- flash ("Flash Second Stage", "SSI") ---- */

static bool flash_is_readable(const rp2040 *chip)
{
    return chip->ssi_enable == 1u && chip->ssi_ctrlr0 == (31u << 16 | 3u << 8) &&
           chip->ssi_ctrlr1 == 0u && chip->ssi_spi_ctrlr0 == 0x03000218u && chip->ssi_baudr >= 2u &&
           chip->ssi_baudr % 2u == 0u;
}

static unsigned flash_cycles(void *owner, uint32_t address)
{
    rp2040 *chip = owner;
    const uint32_t line = (address - FLASH) / CACHE_LINE;

    if (!flash_is_readable(chip)) {
        report_fault("-", "the flash is read before its interface is set");
        return 0;
    }
    /* Common flash chips bear 50 MHz with this command. */
    if (sys_hz(chip) / chip->ssi_baudr > 50000000u) {
        report_fault("-", "the flash's clock is too fast");
    }
    if ((chip->cached[line / 8u] >> line % 8u & 1u) != 0u) {
        return 0;
    }
    chip->cached[line / 8u] |= (uint8_t)(1u << line % 8u);
    return 2u * 64u * chip->ssi_baudr; /* two words of command, address and data */
}

static uint32_t *ssi_register(rp2040 *chip, uint32_t offset)
{
    switch (offset) {
    case 0x00:
        return &chip->ssi_ctrlr0;
    case 0x04:
        return &chip->ssi_ctrlr1;
    case 0x08:
        return &chip->ssi_enable;
    case 0x14:
        return &chip->ssi_baudr;
    case 0xF4:
        return &chip->ssi_spi_ctrlr0;
    default:
        report_fault("-", "flash interface register 0x%02X is not modelled", offset);
        return NULL;
    }
}

static void write_ssi(rp2040 *chip, uint32_t offset, uint32_t value)
{
    uint32_t *place = ssi_register(chip, offset);

    if (place != NULL) {
        if (chip->ssi_enable != 0u && offset != 0x08u) {
            report_fault("-", "the flash interface is changed while it is enabled");
        }
        *place = value;
    }
}

/* "Checksum": polynomial 0x04C11DB7, from all ones, neither reflected nor inverted. */
static uint32_t checksum(const uint8_t *bytes, unsigned count)
{
    uint32_t value = UINT32_MAX;

    for (unsigned i = 0; i < 8u * count; i++) {
        const uint32_t bit = bytes[i / 8u] >> (7u - i % 8u) & 1u;

        value = (value << 1) ^ ((value >> 31) != bit ? 0x04C11DB7u : 0u);
    }
    return value;
}

/* The ROM: checks the second stage, copies it to the end of the RAM and begins there. */
static void prepare(void *owner, uint8_t *const memories[CHIP_REGIONS])
{
    static const uint8_t endless[2] = {0xFE, 0xE7};
    const uint8_t *flash = memories[1];
    uint32_t vectors[2] = {SRAM + 0x42000u - BOOT2_BYTES, BOOT2_AT | 1u};
    uint32_t stored;

    memset(((rp2040 *)owner)->cached, 0, sizeof the_chip.cached);
    ((rp2040 *)owner)->ssi_enable = 1u; /* the ROM has read the second stage */
    memcpy(&stored, flash + BOOT2_BYTES - 4u, 4);
    if (checksum(flash, BOOT2_BYTES - 4u) == stored) {
        memcpy(memories[2] + (BOOT2_AT - SRAM), flash, BOOT2_BYTES);
    } else {
        report_fault("-", "the second stage of the boot has a wrong checksum");
        vectors[1] = 0x100u | 1u;
        memcpy(memories[0] + 0x100u, endless, sizeof endless);
    }
    memcpy(memories[0] + ROM_VECTORS, vectors, sizeof vectors);
}

/* ---- pins ---- */

static bool is_output(const rp2040 *chip, unsigned pin)
{
    return chip->functions[pin] == FUNCTION_SIO && (chip->oe >> pin & 1u) != 0u;
}

static const attached *owner_of_line(unsigned pin)
{
    for (unsigned i = 0; i < controller_count; i++) {
        if (controllers[i].interrupt == pin) {
            return &controllers[i];
        }
    }
    return NULL;
}

static bool level_of(const rp2040 *chip, unsigned pin)
{
    const attached *line = owner_of_line(pin);

    if (is_output(chip, pin)) {
        return (chip->out >> pin & 1u) != 0u;
    }
    if (line != NULL) {
        return !line->kind->int_low(line->device);
    }
    if ((chip->driven >> pin & 1u) != 0u) {
        return (chip->in >> pin & 1u) != 0u;
    }
    return (chip->pads[pin] & 1u << 3) != 0u; /* pulled up */
}

static bool bank_runs(const rp2040 *chip)
{
    return (chip->resets & (RESET_IO_BANK0 | RESET_PADS_BANK0)) == 0u;
}

static uint32_t levels(const rp2040 *chip)
{
    uint32_t levels = 0;

    for (unsigned pin = 0; pin < PINS && bank_runs(chip); pin++) {
        /* What a pin shows passes its pad's input buffer. */
        if ((chip->pads[pin] & 1u << 6) != 0u && level_of(chip, pin)) {
            levels |= 1u << pin;
        }
    }
    return levels;
}

static bool spi_is_wired(const rp2040 *chip)
{
    return bank_runs(chip) && chip->functions[16] == FUNCTION_SPI &&
           chip->functions[18] == FUNCTION_SPI && chip->functions[19] == FUNCTION_SPI &&
           (chip->pads[16] & 1u << 6) != 0u;
}

static void follow_pins(rp2040 *chip)
{
    for (unsigned i = 0; i < controller_count; i++) {
        attached *c = &controllers[i];
        const bool selected =
            bank_runs(chip) && is_output(chip, c->cs) && (chip->out >> c->cs & 1u) == 0u;

        if (selected == c->selected) {
            continue;
        }
        if (rp2040_spi_is_busy(&chip->spi)) {
            report_fault("-", "a chip select moves within a byte");
        }
        c->selected = selected;
        c->kind->select(c->device, selected, the_board.around.now);
    }
    if (the_board.watching && the_board.watched.bit < PINS &&
        is_output(chip, the_board.watched.bit)) {
        board_shows(the_board.watched.port, the_board.watched.bit,
                    (chip->out >> the_board.watched.bit & 1u) != 0u);
    }
}

static void drive_input(void *owner, unsigned input, bool level)
{
    rp2040 *chip = owner;
    const unsigned pin = the_board.inputs[input].bit;
    const bool before = level_of(chip, pin);

    chip->driven |= 1u << pin;
    chip->in = level ? chip->in | 1u << pin : chip->in & ~(1u << pin);
    if (level_of(chip, pin) != before) {
        chip->edges[pin / 8u] |= (level ? 8u : 4u) << 4u * (pin % 8u);
    }
}

static uint32_t events(const rp2040 *chip, unsigned word)
{
    uint32_t events = chip->edges[word];

    for (unsigned i = 0; i < 8u && 8u * word + i < PINS; i++) {
        events |= (level_of(chip, 8u * word + i) ? 2u : 1u) << 4u * i;
    }
    return events;
}

static uint32_t read_sio(const rp2040 *chip, uint32_t offset)
{
    switch (offset) {
    case 0x00:
        return 0; /* core 0 */
    case 0x04:
        return levels(chip);
    case 0x10:
        return chip->out;
    case 0x20:
        return chip->oe;
    default:
        report_fault("-", "SIO register 0x%03X is not modelled", offset);
        return 0;
    }
}

static void write_sio(rp2040 *chip, uint32_t offset, uint32_t value)
{
    switch (offset) {
    case 0x14:
        chip->out |= value;
        break;
    case 0x18:
        chip->out &= ~value;
        break;
    case 0x24:
        chip->oe |= value;
        break;
    case 0x28:
        chip->oe &= ~value;
        break;
    default:
        report_fault("-", "SIO register 0x%03X is not modelled", offset);
        break;
    }
    follow_pins(chip);
}

/* ---- SPI ---- */

static uint8_t exchange(void *owner, uint8_t out, uint64_t at)
{
    const rp2040 *chip = owner;
    const uint64_t hz = rp2040_spi_hz(&chip->spi, sys_hz(chip));
    uint8_t in = 0xFF;

    if ((chip->peri_ctrl & 1u << 11) == 0u || !spi_is_wired(chip)) {
        report_fault("-", "the SPI has no clock, or its pins are others'");
        return in;
    }
    for (unsigned i = 0; i < controller_count; i++) {
        const attached *c = &controllers[i];
        const spi_ailment ailment = spi_troubles_of(&troubles, i, at);

        if (!c->selected) {
            continue;
        }
        if (hz > c->kind->most_hz) {
            report_fault("-", "an SPI clock of %" PRIu64 " Hz", hz);
        }
        if (ailment != SPI_DEAF) {
            in = c->kind->exchange(c->device, out, at);
        }
        if (ailment == SPI_NOISY) {
            in = spi_troubles_noise(&troubles);
        }
    }
    return in;
}

/* ---- timer, watchdog ---- */

static uint32_t timer_count(const rp2040 *chip)
{
    return (chip->resets & RESET_TIMER) != 0u || !ticks(chip)
               ? 0u
               : (uint32_t)((the_board.around.now - chip->timer_from) / tick_ns(chip));
}

static void plan_alarm(rp2040 *chip)
{
    const uint32_t ahead = chip->alarm - timer_count(chip);
    const uint64_t since = (the_board.around.now - chip->timer_from) / tick_ns(chip);

    /* It rings when the count becomes equal; now is too late. */
    chip->alarm_at =
        chip->timer_from + (since + (ahead == 0u ? 0x100000000u : (uint64_t)ahead)) * tick_ns(chip);
}

static void load_watchdog(rp2040 *chip, uint32_t value)
{
    /* Erratum RP2040-E1: two counts a tick. */
    chip->wd_expires_at = the_board.around.now + (uint64_t)(value & 0xFFFFFFu) / 2u * tick_ns(chip);
}

static bool watchdog_bites(const rp2040 *chip)
{
    return (chip->wd_ctrl & 1u << 30) != 0u && ticks(chip) &&
           the_board.around.now >= chip->wd_expires_at;
}

/* ---- the map of the APB ---- */

static uint32_t read_clocks(const rp2040 *chip, uint32_t offset)
{
    switch (offset) {
    case 0x30:
        return chip->ref_ctrl;
    case 0x38:
        return 1u << (chip->ref_ctrl & 3u);
    case 0x3C:
        return chip->sys_ctrl;
    case 0x44:
        return 1u << (chip->sys_ctrl & 1u);
    case 0x48:
        return chip->peri_ctrl;
    default:
        report_fault("-", "clock register 0x%02X is not modelled", offset);
        return 0;
    }
}

static uint32_t read_io(rp2040 *chip, uint32_t offset)
{
    if (offset < 8u * PINS && offset % 8u == 4u) {
        return chip->functions[offset / 8u];
    }
    if (offset >= 0xF0u && offset < 0x100u) {
        return events(chip, (offset - 0xF0u) / 4u);
    }
    if (offset >= 0x100u && offset < 0x110u) {
        return chip->inte[(offset - 0x100u) / 4u];
    }
    report_fault("-", "pin register 0x%03X is not modelled", offset);
    return 0;
}

static uint32_t read_apb(rp2040 *chip, uint32_t address)
{
    const uint64_t now = the_board.around.now;

    if (address >= 0x40008000u && address < 0x40009000u) {
        return read_clocks(chip, address - 0x40008000u);
    }
    if (address >= 0x40014000u && address < 0x40015000u) {
        return read_io(chip, address - 0x40014000u);
    }
    if (address >= 0x4003C000u && address < 0x4003D000u) {
        return rp2040_spi_read(&chip->spi, address - 0x4003C000u);
    }
    if (address >= 0x4001C004u && address < 0x4001C004u + 4u * PINS) {
        return chip->pads[(address - 0x4001C004u) / 4u];
    }
    switch (address) {
    case 0x4000C000:
        return chip->resets;
    case 0x4000C008:
        return RESET_ALL & ~chip->resets;
    case 0x40010008:
        return chip->psm_wdsel;
    case 0x40024000:
        return chip->xosc_ctrl;
    case 0x40024004:
        return crystal_runs(chip) ? 1u << 31 : 0u;
    case 0x40028000:
        return chip->pll_cs | (pll_locks(chip) ? 1u << 31 : 0u);
    case 0x40028004:
        return chip->pll_pwr;
    case 0x40054010:
        return chip->alarm;
    case 0x40054028:
        return timer_count(chip);
    case 0x40054034:
        return chip->timer_intr;
    case 0x40054038:
        return chip->timer_inte;
    case 0x40058000:
        return chip->wd_ctrl;
    case 0x40058008:
        return chip->wd_reason;
    case 0x4005802C:
        return chip->tick;
    default:
        (void)now;
        report_fault("-", "register 0x%08X is not modelled", address);
        return 0;
    }
}

static void write_clocks(rp2040 *chip, uint32_t offset, uint32_t value)
{
    switch (offset) {
    case 0x30:
        chip->ref_ctrl = value;
        break;
    case 0x3C:
        if ((value & 1u) != 0u && pll_hz(chip) == 0u) {
            report_fault("-", "the PLL is selected before it has locked");
        }
        chip->sys_ctrl = value;
        break;
    case 0x48:
        chip->peri_ctrl = value;
        break;
    default:
        report_fault("-", "clock register 0x%02X is not modelled", offset);
        break;
    }
    check_clock(chip);
}

static void write_io(rp2040 *chip, uint32_t offset, uint32_t value)
{
    if ((chip->resets & RESET_IO_BANK0) != 0u) {
        report_fault("-", "pins are set while they are in reset");
    } else if (offset < 8u * PINS && offset % 8u == 4u) {
        chip->functions[offset / 8u] = value & 0x1Fu;
    } else if (offset >= 0xF0u && offset < 0x100u) {
        chip->edges[(offset - 0xF0u) / 4u] &= ~value;
    } else if (offset >= 0x100u && offset < 0x110u) {
        chip->inte[(offset - 0x100u) / 4u] = value;
    } else {
        report_fault("-", "pin register 0x%03X is not modelled", offset);
    }
    follow_pins(chip);
}

static void write_resets(rp2040 *chip, uint32_t value)
{
    if ((chip->resets & RESET_TIMER) != 0u && (value & RESET_TIMER) == 0u) {
        chip->timer_from = the_board.around.now;
        board_clock_starts(the_board.around.now);
    }
    chip->resets = value & RESET_ALL;
}

static void write_timer(rp2040 *chip, uint32_t offset, uint32_t value)
{
    if ((chip->resets & RESET_TIMER) != 0u) {
        report_fault("-", "the timer is set while it is in reset");
    }
    switch (offset) {
    case 0x10:
        chip->alarm = value;
        chip->armed = true;
        plan_alarm(chip);
        break;
    case 0x20:
        chip->armed = chip->armed && (value & 1u) == 0u;
        break;
    case 0x34:
        chip->timer_intr &= ~value;
        break;
    case 0x38:
        chip->timer_inte = value;
        break;
    default:
        report_fault("-", "timer register 0x%02X is not modelled", offset);
        break;
    }
}

static void write_apb(rp2040 *chip, uint32_t address, uint32_t value)
{
    if (address >= 0x40008000u && address < 0x40009000u) {
        write_clocks(chip, address - 0x40008000u, value);
        return;
    }
    if (address >= 0x40014000u && address < 0x40015000u) {
        write_io(chip, address - 0x40014000u, value);
        return;
    }
    if (address >= 0x4003C000u && address < 0x4003D000u) {
        if ((chip->resets & RESET_SPI0) != 0u) {
            report_fault("-", "the SPI is set while it is in reset");
        }
        rp2040_spi_write(&chip->spi, address - 0x4003C000u, value, the_board.around.now,
                         sys_hz(chip));
        return;
    }
    if (address >= 0x40054000u && address < 0x40055000u) {
        write_timer(chip, address - 0x40054000u, value);
        return;
    }
    if (address >= 0x4001C004u && address < 0x4001C004u + 4u * PINS) {
        if ((chip->resets & RESET_PADS_BANK0) != 0u) {
            report_fault("-", "pads are set while they are in reset");
        }
        chip->pads[(address - 0x4001C004u) / 4u] = value;
        return;
    }
    switch (address) {
    case 0x4000C000:
        write_resets(chip, value);
        break;
    case 0x40010008:
        chip->psm_wdsel = value;
        break;
    case 0x40024000:
        chip->xosc_ctrl = value;
        chip->crystal_ready_at =
            the_board.around.now + (uint64_t)chip->xosc_startup * 256u * NS_PER_SECOND / CRYSTAL_HZ;
        if (chip->xosc_startup < 47u) {
            report_fault("-", "the crystal gets less than 1 ms to start");
        }
        break;
    case 0x4002400C:
        chip->xosc_startup = value & 0x3FFFu;
        break;
    case 0x40028000:
        chip->pll_cs = value & 0x13Fu;
        break;
    case 0x40028004:
        if ((chip->pll_pwr & ~value & 0x21u) != 0u) {
            chip->pll_ready_at = the_board.around.now + 100u * NS_PER_US; /* assumed */
        }
        chip->pll_pwr = value;
        break;
    case 0x40028008:
        chip->pll_fbdiv = value & 0xFFFu;
        break;
    case 0x4002800C:
        chip->pll_prim = value;
        break;
    case 0x40058000:
        chip->wd_ctrl = value;
        break;
    case 0x40058004:
        load_watchdog(chip, value);
        break;
    case 0x4005802C:
        chip->tick = value & 0x3FFu;
        break;
    default:
        report_fault("-", "register 0x%08X is not modelled", address);
        break;
    }
}

static uint32_t read_device(void *owner, uint32_t address, unsigned size)
{
    rp2040 *chip = owner;

    if (size != 4u) {
        report_fault("-", "device at 0x%08X accessed by %u bytes", address, size);
    }
    if (address >= 0xD0000000u) {
        return read_sio(chip, address - 0xD0000000u);
    }
    if (address < 0x20000000u) {
        const uint32_t *place = ssi_register(chip, address - 0x18000000u);

        return place != NULL ? *place : 0u;
    }
    return read_apb(chip, address & ~0x3000u);
}

static void write_device(void *owner, uint32_t address, uint32_t value, unsigned size)
{
    rp2040 *chip = owner;
    const uint32_t plain = address & ~0x3000u;

    if (size != 4u) {
        report_fault("-", "device at 0x%08X accessed by %u bytes", address, size);
    }
    if (address >= 0xD0000000u) {
        write_sio(chip, address - 0xD0000000u, value);
        return;
    }
    if (address < 0x20000000u) {
        write_ssi(chip, address - 0x18000000u, value);
        return;
    }
    /* addressmap.h, REG_ALIAS: exclusive or, set, clear. */
    switch (address >> 12 & 3u) {
    case 1:
        value ^= read_apb(chip, plain);
        break;
    case 2:
        value |= read_apb(chip, plain);
        break;
    case 3:
        value = read_apb(chip, plain) & ~value;
        break;
    default:
        break;
    }
    write_apb(chip, plain, value);
}

/* ---- time ---- */

static void raise_troubles(uint64_t now)
{
    unsigned bus;

    while (spi_troubles_take(&troubles, now, &bus)) {
        controllers[bus].kind->power(controllers[bus].device, now);
    }
}

static void advance(void *owner, uint64_t now)
{
    rp2040 *chip = owner;

    surroundings_advance(&the_board.around, now);
    raise_troubles(now);
    rp2040_spi_advance(&chip->spi, now, sys_hz(chip), exchange, chip);
    surroundings_advance(&the_board.around, now); /* what was asked for meanwhile */
    if (chip->armed && now >= chip->alarm_at) {
        chip->armed = false;
        chip->timer_intr |= 1u;
    }
}

static void sooner(uint64_t *next, uint64_t candidate)
{
    *next = candidate < *next ? candidate : *next;
}

static uint64_t next(void *owner)
{
    const rp2040 *chip = owner;
    uint64_t next = surroundings_next(&the_board.around);

    if (chip->armed) {
        sooner(&next, chip->alarm_at);
    }
    if ((chip->wd_ctrl & 1u << 30) != 0u && ticks(chip)) {
        sooner(&next, chip->wd_expires_at);
    }
    sooner(&next, spi_troubles_next(&troubles));
    sooner(&next, rp2040_spi_next(&chip->spi));
    return next;
}

static void lines(void *owner, uint32_t words[CHIP_IRQ_WORDS])
{
    const rp2040 *chip = owner;

    if ((chip->timer_intr & chip->timer_inte) != 0u) {
        words[0] |= 1u << IRQ_TIMER_0;
    }
    for (unsigned i = 0; i < 4u; i++) {
        if (chip->inte[i] != 0u && (events(chip, i) & chip->inte[i]) != 0u) {
            words[0] |= 1u << IRQ_IO_BANK0;
        }
    }
}

static bool wants_reset(void *owner, locum_reset_cause *cause)
{
    rp2040 *chip = owner;

    if (watchdog_bites(chip)) {
        report_fault("-", "the watchdog has expired");
        /* Without these, parts of the chip go on as they were. */
        if ((chip->psm_wdsel & 0x1FFFCu) != 0x1FFFCu) {
            report_fault("-", "the watchdog does not reset the whole chip");
        }
        *cause = LOCUM_RESET_WATCHDOG;
        return true;
    }
    return surroundings_take_reset(&the_board.around, cause);
}

static void reset(void *owner, locum_reset_cause cause)
{
    rp2040 *chip = owner;
    const uint32_t in = chip->in;
    const uint32_t driven = chip->driven;

    memset(chip, 0, sizeof *chip);
    chip->in = in;
    chip->driven = driven;
    chip->resets = RESET_ALL;
    chip->pll_cs = 1u;
    chip->pll_pwr = 0x2Du;
    chip->pll_prim = 0x77000u;
    chip->wd_ctrl = 0x07000000u;
    chip->tick = 0x200u;
    chip->wd_reason = cause == LOCUM_RESET_WATCHDOG ? 1u : 0u;
    chip->wd_expires_at = UINT64_MAX;
    for (unsigned pin = 0; pin < PINS; pin++) {
        chip->functions[pin] = FUNCTION_NULL;
        chip->pads[pin] = 0x56u;
    }
    rp2040_spi_reset(&chip->spi);
    for (unsigned i = 0; i < controller_count; i++) {
        controllers[i].selected = false;
        controllers[i].kind->select(controllers[i].device, false, the_board.around.now);
        if (cause == LOCUM_RESET_POWER && the_board.around.now != 0u) {
            controllers[i].kind->power(controllers[i].device, the_board.around.now);
        }
    }
    the_board.lives = false;
    the_board.watched_level = -1;
}

void *board_chip_power_on(void)
{
    the_board.around.pins = (surroundings_pins){drive_input, &the_chip};
    reset(&the_chip, LOCUM_RESET_POWER);
    return &the_chip;
}

void board_print_waiting(void)
{
    for (unsigned i = 0; i < controller_count; i++) {
        controllers[i].kind->print_waiting(controllers[i].device);
    }
}

static const spi_device_kind *const kinds[] = {&mcp2515_device, &mcp2518fd_device};

static bool attach(const char *text)
{
    attached *c = &controllers[controller_count];
    char name[16];
    uint32_t crystal_hz;

    if (controller_count >= the_board.around.count ||
        sscanf(text, "%15[^,],%u,%u,%" SCNu32, name, &c->cs, &c->interrupt, &crystal_hz) != 4) {
        return false;
    }
    for (unsigned i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(name, kinds[i]->name) == 0) {
            c->kind = kinds[i];
            c->device = c->kind->make(controller_count++, crystal_hz);
            return true;
        }
    }
    return false;
}

bool board_option(const char *name, const char *text)
{
    return strcmp(name, "--spi") == 0
               ? attach(text)
               : spi_troubles_option(&troubles, name, text, controller_count);
}

const chip_kind board_chip = {
    .cpu_model = UC_CPU_ARM_CORTEX_M0,
    .regions = {{0x00000000u, 0x4000u, false, false},
                {FLASH, FLASH_BYTES, false, false},
                {SRAM, 0x42000u, false, true},
                {0x18000000u, 0x1000u, true, false},
                {0x40000000u, 0x70000u, true, false},
                {0xD0000000u, 0x1000u, true, false}},
    .vectors = ROM_VECTORS,
    .core_hz = core_hz,
    .wait_states = wait_states,
    .read = read_device,
    .write = write_device,
    .advance = advance,
    .next = next,
    .lines = lines,
    .wants_reset = wants_reset,
    .reset = reset,
    .prepare = prepare,
    .flash_cycles = flash_cycles,
};
