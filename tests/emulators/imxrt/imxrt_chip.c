/*
 * An i.MX RT1062 without its core, after IMXRT1060RM (from memory) and the vendor's public headers:
 * clock controller, ARM PLL, pins, two ports, general purpose timer 1, watchdog 1, reset
 * controller, the three FlexCAN controllers, and the ROM's look at the flash's headers. Registers
 * that are not modelled are reported.
 */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <unicorn/unicorn.h>

#include "board.h"
#include "flexcan.h"
#include "report.h"

#define NS_PER_SECOND 1000000000u
#define CRYSTAL_HZ 24000000u
#define ROM_HZ 396000000u  /* as the ROM leaves it */
#define MOST_HZ 528000000u /* without more voltage for the core */
#define MOST_IPG_HZ 150000000u

#define PORTS 2u
#define CONTROLLERS 3u
#define PINS 32u
#define IRQ_CAN1 36u
#define IRQ_CAN3 154u
#define IRQ_GPIO1 80u
#define IRQ_GPT1 100u
#define FLASH 0x60000000u

typedef struct {
    uint32_t out;
    uint32_t direction;
    uint32_t imr;
    uint32_t isr;
    uint32_t edge_sel;
    uint32_t in; /* levels from outside */
    uint32_t driven;
    uint32_t functions[PINS];
    uint32_t pads[PINS];
} port;

typedef struct {
    uint32_t cacrr;
    uint32_t cbcdr;
    uint32_t cbcmr;
    uint32_t cscmr2;
    uint32_t clpcr;
    uint32_t ccgr[8];
    uint32_t pll_arm;
    uint64_t pll_ready_at;
    uint32_t daisy[CONTROLLERS];
    port ports[PORTS];
    uint32_t gpt_cr;
    uint32_t gpt_pr;
    uint32_t gpt_sr;
    uint32_t gpt_ir;
    uint32_t gpt_ocr1;
    uint64_t gpt_from;
    uint64_t gpt_rings_at;
    uint16_t wcr;
    uint16_t wmcr;
    bool fed; /* the first half of a feed */
    uint64_t wdog_expires_at;
    uint64_t wdog_16_s_at;
    uint32_t srsr;
    flexcan cans[CONTROLLERS];
} imxrt;

static imxrt the_chip = {.cans = {{.bus = -1}, {.bus = -1}, {.bus = -1}}};
static unsigned bus_controllers[SURROUNDINGS_BUSES];
static unsigned bus_count;

/* ---- clocks ---- */

static uint64_t pll_hz(const imxrt *chip)
{
    return (chip->pll_arm & 1u << 13) == 0u || (chip->pll_arm & (1u << 12 | 1u << 16)) != 0u ||
                   the_board.around.now < chip->pll_ready_at
               ? 0u
               : (uint64_t)CRYSTAL_HZ / 2u * (chip->pll_arm & 0x7Fu);
}

static uint64_t ahb_hz(const imxrt *chip)
{
    uint64_t hz;

    if ((chip->cbcdr & 1u << 25) != 0u) {
        hz = (chip->cbcmr >> 12 & 3u) == 1u ? CRYSTAL_HZ : 0u;
    } else if ((chip->cbcmr >> 18 & 3u) == 3u) {
        hz = pll_hz(chip) / ((chip->cacrr & 7u) + 1u);
    } else {
        hz = ROM_HZ;
    }
    return hz / ((chip->cbcdr >> 10 & 7u) + 1u);
}

static uint64_t core_hz(void *owner)
{
    return ahb_hz(owner);
}

static unsigned wait_states(void *owner)
{
    (void)owner;
    return 0;
}

static void check_clock(const imxrt *chip)
{
    const uint64_t hz = ahb_hz(chip);

    if (hz == 0u || hz > MOST_HZ) {
        report_fault("-", "a core clock of %" PRIu64 " Hz", hz);
    }
    if (hz / ((chip->cbcdr >> 8 & 3u) + 1u) > MOST_IPG_HZ) {
        report_fault("-", "a peripheral clock of %" PRIu64 " Hz",
                     hz / ((chip->cbcdr >> 8 & 3u) + 1u));
    }
}

static bool gated_on(const imxrt *chip, unsigned word, unsigned gate)
{
    return (chip->ccgr[word] >> 2u * gate & 3u) == 3u;
}

/* ---- pins ---- */

static bool level_of(const port *port, unsigned pin)
{
    if ((port->direction >> pin & 1u) != 0u) {
        return (port->out >> pin & 1u) != 0u;
    }
    if ((port->driven >> pin & 1u) != 0u) {
        return (port->in >> pin & 1u) != 0u;
    }
    /* Pulled, and upwards. */
    return (port->pads[pin] & 3u << 12) == 3u << 12 && (port->pads[pin] >> 14 & 3u) != 0u;
}

static uint32_t levels(const port *port)
{
    uint32_t levels = 0;

    for (unsigned pin = 0; pin < PINS; pin++) {
        /* The port sees a pin only when the pin is the port's. */
        if ((port->functions[pin] & 7u) == 5u && level_of(port, pin)) {
            levels |= 1u << pin;
        }
    }
    return levels;
}

static void show_port(const imxrt *chip, unsigned number)
{
    const port *port = &chip->ports[number];
    const unsigned pin = the_board.watched.bit;

    if (the_board.watching && the_board.watched.port == (char)('A' + number) && pin < PINS &&
        (port->direction >> pin & 1u) != 0u && (port->functions[pin] & 7u) == 5u) {
        board_shows(the_board.watched.port, pin, (port->out >> pin & 1u) != 0u);
    }
}

static void drive_input(void *owner, unsigned input, bool level)
{
    imxrt *chip = owner;
    const board_pin pin = the_board.inputs[input];
    port *port = &chip->ports[(unsigned)(pin.port - 'A')];
    const uint32_t before = levels(port);

    port->driven |= 1u << pin.bit;
    port->in = level ? port->in | 1u << pin.bit : port->in & ~(1u << pin.bit);
    port->isr |= (before ^ levels(port)) & port->edge_sel;
}

static bool is_wired(const imxrt *chip, unsigned controller)
{
    static const unsigned transmit[] = {24, 2, 14};
    static const unsigned functions[] = {2, 0, 8};
    static const unsigned daisies[] = {2, 1, 1};
    const port *port = &chip->ports[0];
    const unsigned pin = transmit[controller];

    return (port->functions[pin] & 0xFu) == functions[controller] &&
           (port->functions[pin + 1u] & 0xFu) == functions[controller] &&
           chip->daisy[controller] == daisies[controller];
}

static uint32_t read_port(imxrt *chip, unsigned number, uint32_t offset)
{
    const port *port = &chip->ports[number];

    if (!gated_on(chip, number == 0u ? 1u : 0u, number == 0u ? 13u : 15u)) {
        report_fault("-", "a port without a clock");
    }
    switch (offset) {
    case 0x00:
        return port->out;
    case 0x04:
        return port->direction;
    case 0x08:
        return levels(port);
    case 0x14:
        return port->imr;
    case 0x18:
        return port->isr;
    case 0x1C:
        return port->edge_sel;
    default:
        report_fault("-", "port register 0x%02X is not modelled", offset);
        return 0;
    }
}

static void write_port(imxrt *chip, unsigned number, uint32_t offset, uint32_t value)
{
    port *port = &chip->ports[number];

    if (!gated_on(chip, number == 0u ? 1u : 0u, number == 0u ? 13u : 15u)) {
        return;
    }
    switch (offset) {
    case 0x04:
        port->direction = value;
        break;
    case 0x14:
        port->imr = value;
        break;
    case 0x18:
        port->isr &= ~value;
        break;
    case 0x1C:
        port->edge_sel = value;
        break;
    case 0x84:
        port->out |= value;
        break;
    case 0x88:
        port->out &= ~value;
        break;
    default:
        report_fault("-", "port register 0x%02X is not modelled", offset);
        break;
    }
    show_port(chip, number);
}

/* ---- timer ---- */

static uint64_t gpt_tick_ns_by_clock(const imxrt *chip, uint64_t ticks)
{
    return ticks * (((chip->gpt_pr & 0xFFFu) + 1u) * ((chip->gpt_pr >> 12 & 0xFu) + 1u)) *
           (NS_PER_SECOND / 1000u) / (CRYSTAL_HZ / 1000u);
}

static bool gpt_runs(const imxrt *chip)
{
    return (chip->gpt_cr & 1u) != 0u && gated_on(chip, 1, 10) && gated_on(chip, 1, 11);
}

static uint64_t gpt_ticks(const imxrt *chip)
{
    const uint64_t one = gpt_tick_ns_by_clock(chip, 1000u);

    return gpt_runs(chip) ? (the_board.around.now - chip->gpt_from) * 1000u / one : 0u;
}

static void plan_ring(imxrt *chip)
{
    const uint64_t ticks = gpt_ticks(chip);
    const uint32_t ahead = chip->gpt_ocr1 - (uint32_t)ticks;

    chip->gpt_rings_at =
        !gpt_runs(chip)
            ? UINT64_MAX
            : chip->gpt_from + gpt_tick_ns_by_clock(
                                   chip, ticks + (ahead == 0u ? 0x100000000u : (uint64_t)ahead));
}

static uint32_t read_timer(const imxrt *chip, uint32_t offset)
{
    switch (offset) {
    case 0x00:
        return chip->gpt_cr;
    case 0x08:
        return chip->gpt_sr;
    case 0x24:
        return (uint32_t)gpt_ticks(chip);
    default:
        report_fault("-", "timer register 0x%02X is not modelled", offset);
        return 0;
    }
}

static void write_timer(imxrt *chip, uint32_t offset, uint32_t value)
{
    const bool ran = gpt_runs(chip);

    switch (offset) {
    case 0x00:
        chip->gpt_cr = value;
        if (!ran && gpt_runs(chip)) {
            chip->gpt_from = the_board.around.now;
            board_clock_starts(the_board.around.now);
            if ((value & (7u << 6 | 1u << 9 | 1u << 10)) != (5u << 6 | 1u << 9 | 1u << 10)) {
                report_fault("-", "a timer mode that is not modelled: 0x%08X", value);
            }
        }
        break;
    case 0x04:
        chip->gpt_pr = value;
        break;
    case 0x08:
        chip->gpt_sr &= ~value;
        break;
    case 0x0C:
        chip->gpt_ir = value;
        break;
    case 0x10:
        chip->gpt_ocr1 = value;
        break;
    default:
        report_fault("-", "timer register 0x%02X is not modelled", offset);
        break;
    }
    plan_ring(chip);
}

/* ---- watchdog ---- */

static void load_watchdog(imxrt *chip)
{
    chip->wdog_expires_at =
        (chip->wcr & 1u << 2) == 0u
            ? UINT64_MAX
            : the_board.around.now + ((uint64_t)(chip->wcr >> 8) + 1u) * (NS_PER_SECOND / 2u);
}

static void write_watchdog(imxrt *chip, uint32_t offset, uint16_t value)
{
    switch (offset) {
    case 0x0:
        chip->wcr = value;
        load_watchdog(chip);
        break;
    case 0x2:
        if (value == 0xAAAAu && chip->fed) {
            load_watchdog(chip);
        }
        chip->fed = value == 0x5555u;
        break;
    case 0x8:
        chip->wmcr = value;
        break;
    default:
        report_fault("-", "watchdog register 0x%X is not modelled", offset);
        break;
    }
}

/* ---- the map ---- */

#define IS_PORT(address) ((address) >= 0x401B8000u && (address) < 0x401C0000u)
#define IS_CAN(address) ((address) >= 0x401D0000u && (address) < 0x401DC000u)
#define IS_GATE(address) ((address) >= 0x400FC068u && (address) < 0x400FC088u)
#define IS_IOMUX(address, base) ((address) >= (base) && (address) < (base) + 0x100u)

static void know_what_they_stand_on(imxrt *chip)
{
    static const unsigned gates[] = {7, 9, 3};

    for (unsigned i = 0; i < CONTROLLERS; i++) {
        const unsigned word = i == 2u ? 7u : 0u;

        chip->cans[i].clocked =
            gated_on(chip, word, gates[i]) && gated_on(chip, word, gates[i] + 1u);
        chip->cans[i].wired = is_wired(chip, i);
        chip->cans[i].clock_hz =
            (chip->cscmr2 >> 8 & 3u) == 1u ? CRYSTAL_HZ / ((chip->cscmr2 >> 2 & 0x3Fu) + 1u) : 0u;
    }
}

static uint32_t *plain_register(imxrt *chip, uint32_t address)
{
    if (IS_GATE(address)) {
        return &chip->ccgr[(address - 0x400FC068u) / 4u];
    }
    if (IS_IOMUX(address, 0x401F80BCu)) {
        return &chip->ports[(address - 0x401F80BCu) / 0x80u]
                    .functions[(address - 0x401F80BCu) % 0x80u / 4u];
    }
    if (IS_IOMUX(address, 0x401F82ACu)) {
        return &chip->ports[(address - 0x401F82ACu) / 0x80u]
                    .pads[(address - 0x401F82ACu) % 0x80u / 4u];
    }
    switch (address) {
    case 0x400FC010:
        return &chip->cacrr;
    case 0x400FC014:
        return &chip->cbcdr;
    case 0x400FC018:
        return &chip->cbcmr;
    case 0x400FC020:
        return &chip->cscmr2;
    case 0x400FC054:
        return &chip->clpcr;
    case 0x401F844C:
        return &chip->daisy[0];
    case 0x401F8450:
        return &chip->daisy[1];
    case 0x401F878C:
        return &chip->daisy[2];
    default:
        return NULL;
    }
}

static uint32_t read_device(void *owner, uint32_t address, unsigned size)
{
    imxrt *chip = owner;
    const uint32_t *plain = plain_register(chip, address);

    if (size != 4u) {
        report_fault("-", "device at 0x%08X read by %u bytes", address, size);
    }
    know_what_they_stand_on(chip);
    if (plain != NULL) {
        return *plain;
    }
    if (IS_PORT(address)) {
        return read_port(chip, (address - 0x401B8000u) / 0x4000u, address & 0x3FFFu);
    }
    if (IS_CAN(address)) {
        return flexcan_read(&chip->cans[(address - 0x401D0000u) / 0x4000u], address & 0x3FFFu);
    }
    if (address >= 0x401EC000u && address < 0x401F0000u) {
        return read_timer(chip, address - 0x401EC000u);
    }
    switch (address) {
    case 0x400FC048:
        return 0; /* multiplexers settle at once */
    case 0x400D8000:
        return chip->pll_arm | (pll_hz(chip) != 0u ? 1u << 31 : 0u);
    case 0x400F8008:
        return chip->srsr;
    default:
        report_fault("-", "register 0x%08X is not modelled", address);
        return 0;
    }
}

static void write_device(void *owner, uint32_t address, uint32_t value, unsigned size)
{
    imxrt *chip = owner;
    uint32_t *plain = plain_register(chip, address);

    if (size != (address >= 0x400B8000u && address < 0x400B8010u ? 2u : 4u)) {
        report_fault("-", "device at 0x%08X written by %u bytes", address, size);
    }
    know_what_they_stand_on(chip);
    if (plain != NULL) {
        *plain = value;
        if (address >= 0x400FC010u && address <= 0x400FC018u) {
            check_clock(chip);
        }
        show_port(chip, 0);
        show_port(chip, 1);
        know_what_they_stand_on(chip);
        return;
    }
    if (IS_PORT(address)) {
        write_port(chip, (address - 0x401B8000u) / 0x4000u, address & 0x3FFFu, value);
        return;
    }
    if (IS_CAN(address)) {
        flexcan_write(&chip->cans[(address - 0x401D0000u) / 0x4000u], address & 0x3FFFu, value);
        return;
    }
    if (address >= 0x401EC000u && address < 0x401F0000u) {
        write_timer(chip, address - 0x401EC000u, value);
        return;
    }
    if (address >= 0x400B8000u && address < 0x400B8010u) {
        write_watchdog(chip, address - 0x400B8000u, (uint16_t)value);
        return;
    }
    switch (address) {
    case 0x400D8000:
        chip->pll_arm = value & 0x7FFFFFFFu;
        chip->pll_ready_at = the_board.around.now + 60000u; /* assumed */
        break;
    case 0x400F8008:
        chip->srsr &= ~value;
        break;
    default:
        report_fault("-", "register 0x%08X is not modelled", address);
        break;
    }
}

/* ---- time ---- */

static void advance(void *owner, uint64_t now)
{
    imxrt *chip = owner;

    know_what_they_stand_on(chip);
    surroundings_advance(&the_board.around, now);
    if (now >= chip->gpt_rings_at) {
        chip->gpt_sr |= 1u;
        plan_ring(chip);
    }
}

static uint64_t next(void *owner)
{
    const imxrt *chip = owner;
    uint64_t next = surroundings_next(&the_board.around);

    next = chip->gpt_rings_at < next ? chip->gpt_rings_at : next;
    return chip->wdog_expires_at < next ? chip->wdog_expires_at : next;
}

static void raise_line(uint32_t words[CHIP_IRQ_WORDS], unsigned irq)
{
    words[irq / 32u] |= 1u << irq % 32u;
}

static void lines(void *owner, uint32_t words[CHIP_IRQ_WORDS])
{
    const imxrt *chip = owner;

    for (unsigned i = 0; i < PORTS; i++) {
        const uint32_t asks = chip->ports[i].isr & chip->ports[i].imr;

        if ((asks & 0xFFFFu) != 0u) {
            raise_line(words, IRQ_GPIO1 + 2u * i);
        }
        if ((asks >> 16) != 0u) {
            raise_line(words, IRQ_GPIO1 + 2u * i + 1u);
        }
    }
    if ((chip->gpt_sr & chip->gpt_ir & 1u) != 0u) {
        raise_line(words, IRQ_GPT1);
    }
    for (unsigned i = 0; i < CONTROLLERS; i++) {
        if (flexcan_requests(&chip->cans[i])) {
            raise_line(words, i == 2u ? IRQ_CAN3 : IRQ_CAN1 + i);
        }
    }
}

static bool wants_reset(void *owner, locum_reset_cause *cause)
{
    imxrt *chip = owner;

    if (the_board.around.now >= chip->wdog_expires_at ||
        ((chip->wmcr & 1u) != 0u && the_board.around.now >= chip->wdog_16_s_at)) {
        report_fault("-", "the watchdog has expired");
        *cause = LOCUM_RESET_WATCHDOG;
        return true;
    }
    return surroundings_take_reset(&the_board.around, cause);
}

static void reset(void *owner, locum_reset_cause cause)
{
    imxrt *chip = owner;
    const uint32_t flags = cause == LOCUM_RESET_POWER ? 0u : chip->srsr;

    for (unsigned i = 0; i < CONTROLLERS; i++) {
        flexcan_reset(&chip->cans[i], i);
    }
    for (unsigned i = 0; i < PORTS; i++) {
        const uint32_t in = chip->ports[i].in;
        const uint32_t driven = chip->ports[i].driven;

        memset(&chip->ports[i], 0, sizeof chip->ports[i]);
        chip->ports[i].in = in;
        chip->ports[i].driven = driven;
        for (unsigned pin = 0; pin < PINS; pin++) {
            chip->ports[i].functions[pin] = 5u;
            chip->ports[i].pads[pin] = 0x10B0u;
        }
    }
    chip->cacrr = 1u;
    chip->cbcdr = 0x000A8300u;
    chip->cbcmr = 0;
    chip->cscmr2 = 3u << 8 | 1u << 2;
    chip->clpcr = 0x79u;
    memset(chip->ccgr, 0, sizeof chip->ccgr);
    memset(chip->daisy, 0, sizeof chip->daisy);
    chip->pll_arm = 0x00013042u;
    chip->gpt_cr = 0;
    chip->gpt_pr = 0;
    chip->gpt_sr = 0;
    chip->gpt_ir = 0;
    chip->gpt_rings_at = UINT64_MAX;
    chip->wcr = 0x0030u;
    chip->wmcr = 1u;
    chip->wdog_expires_at = UINT64_MAX;
    chip->wdog_16_s_at = the_board.around.now + 16ull * NS_PER_SECOND;
    chip->srsr = flags | (cause == LOCUM_RESET_WATCHDOG ? 1u << 4 : 1u << 0);
    the_board.lives = false;
    the_board.watched_level = -1;
}

/* The ROM: how to read the flash, where the image is, where it begins. */
static void prepare(void *owner, uint8_t *const memories[CHIP_REGIONS])
{
    const uint8_t *flash = memories[1];
    uint32_t configuration[128];
    uint32_t table[8];
    uint32_t data[4];

    (void)owner;
    memcpy(configuration, flash, sizeof configuration);
    memcpy(table, flash + 0x1000u, sizeof table);
    if (configuration[0] != 0x42464346u || configuration[1] >> 24 != 0x56u ||
        (configuration[17] & 0x00FFFFFFu) != 0x00010101u || configuration[20] == 0u ||
        configuration[32] != 0x08180403u || (configuration[33] & 0xFFFFu) != 0x2404u) {
        report_fault("-", "the flash's configuration is not one");
    }
    if (table[0] != 0x412000D1u || table[1] != FLASH + 0x2000u || table[3] != 0u ||
        table[5] != FLASH + 0x1000u || table[4] - FLASH > 0x2000u) {
        report_fault("-", "the image vector table is not one");
        return;
    }
    memcpy(data, flash + (table[4] - FLASH), sizeof data);
    if (data[0] != FLASH || data[1] == 0u || data[2] != 0u) {
        report_fault("-", "the boot data are none");
    }
}

bool board_option(const char *name, const char *text)
{
    unsigned bus;
    unsigned controller;

    if (strcmp(name, "--on") != 0 || sscanf(text, "%u=CAN%u", &bus, &controller) != 2 ||
        bus != bus_count || controller < 1u || controller > CONTROLLERS) {
        return false;
    }
    bus_controllers[bus_count++] = controller - 1u;
    return true;
}

void *board_chip_power_on(void)
{
    the_board.around.pins = (surroundings_pins){drive_input, &the_chip};
    reset(&the_chip, LOCUM_RESET_POWER);
    for (unsigned i = 0; i < the_board.around.count; i++) {
        flexcan_attach(&the_chip.cans[bus_controllers[i]], i);
    }
    return &the_chip;
}

void board_print_waiting(void)
{
    for (unsigned i = 0; i < CONTROLLERS; i++) {
        if (the_chip.cans[i].bus >= 0) {
            flexcan_print_waiting(&the_chip.cans[i]);
        }
    }
}

const chip_kind board_chip = {
    .cpu_model = UC_CPU_ARM_CORTEX_M7,
    .regions = {{0x00000000u, 0x20000u, false, true},
                {FLASH, 0x200000u, false, false},
                {0x20000000u, 0x20000u, false, true},
                {0x40000000u, 0x200000u, true, false}},
    .vectors = FLASH + 0x2000u,
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
};
