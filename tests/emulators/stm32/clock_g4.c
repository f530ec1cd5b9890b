/* STM32G4 (RM0440, "Reset and clock control"; flash from "Embedded flash memory"; from memory). */
#include "clock_tree.h"

#include "report.h"

#define CFGR 0x08
#define PLLCFGR 0x0C
#define CCIPR 0x88

static const clock_register registers[] = {
    {0x00, 0x00000500u, 0, 0},
    {CFGR, 0x00000005u, 0x7F003FF3u, 0},
    {PLLCFGR, 0x00001000u, 0xFF737FF3u, 0x06607FF3u},
    {0x18, 0, 0x7FFu, 0},
    {0x1C, 0, 0, 0},
    {0x20, 0, 0, 0},
    {0x38, 0, 0xFFFFFFFFu, 0},
    {0x48, 0x100u, 0xFFFFFFFFu, 0},
    {0x4C, 0, 0xFFFFFFFFu, 0},
    {0x58, 0x400u, 0xFFFFFFFFu, 0},
    {0x60, 0, 0xFFFFFFFFu, 0},
    {CCIPR, 0, 0xFFFFFFFFu, 0},
    {0x94, 0, 0, 0},
};

static bool pll_uses_crystal(const clock_tree *clock)
{
    return (clock_tree_value(clock, PLLCFGR) & 3u) == 3u;
}

static uint32_t oscillator_hz(const clock_tree *clock)
{
    const uint32_t pll = clock_tree_value(clock, PLLCFGR);
    const uint32_t input = pll_uses_crystal(clock) ? clock->crystal_hz : 16000000u;
    const uint32_t divided = input / (((pll >> 4) & 0xFu) + 1u);
    const uint32_t hz = divided * ((pll >> 8) & 0x7Fu);

    if (divided < 2660000u || divided > 16000000u || hz < 96000000u || hz > 344000000u) {
        report_fault("-", "PLL: input %u Hz, oscillator %u Hz", divided, hz);
    }
    return hz;
}

static uint32_t divided_by(const clock_tree *clock, unsigned enable, unsigned field)
{
    const uint32_t pll = clock_tree_value(clock, PLLCFGR);

    return (pll & (1u << enable)) == 0u
               ? 0u
               : oscillator_hz(clock) / (2u * (((pll >> field) & 3u) + 1u));
}

static uint32_t pll_hz(const clock_tree *clock)
{
    return divided_by(clock, 24, 25);
}

static uint32_t core_hz(const clock_tree *clock, uint32_t system_hz)
{
    return system_hz / clock_tree_ahb_divisor((clock_tree_value(clock, CFGR) >> 4) & 0xFu);
}

static uint32_t apb1_hz(const clock_tree *clock, uint32_t core)
{
    return core / clock_tree_apb_divisor((clock_tree_value(clock, CFGR) >> 8) & 7u);
}

static uint32_t timers_hz(const clock_tree *clock, uint32_t core)
{
    const uint32_t apb1 = apb1_hz(clock, core);

    return apb1 == core ? core : 2u * apb1;
}

static uint32_t can_hz(const clock_tree *clock)
{
    switch ((clock_tree_value(clock, CCIPR) >> 24) & 3u) {
    case 0:
        return clock->crystal_hz;
    case 1:
        return divided_by(clock, 20, 21);
    default:
        return clock_tree_apb1(clock);
    }
}

/* Range 1 without boost, which is what a reset leaves. */
static void check_limits(const clock_tree *clock, uint32_t system_hz)
{
    static const uint32_t limits[5] = {30000000u, 60000000u, 90000000u, 120000000u, 150000000u};

    clock_tree_check_flash(clock, system_hz, limits, 5);
}

const clock_family clock_g4 = {
    .registers = registers,
    .register_count = sizeof registers / sizeof registers[0],
    .control = 0x00,
    .internal_on = 1u << 8,
    .internal_ready = 1u << 10,
    .configuration = CFGR,
    .switch_mask = 3,
    .status_shift = 2,
    .internal_code = 1,
    .crystal_code = 2,
    .pll_code = 3,
    .internal_hz = 16000000u,
    .flags = 0x1C,
    .security_flag = 1u << 8,
    .clear = 0x20,
    .security_clear = 1u << 8,
    .cause = 0x94,
    .cause_flags = 0xFE000000u,
    .cause_remove = 1u << 23,
    .cause_power = (1u << 27) | (1u << 26),    /* BORRSTF, PINRSTF */
    .cause_watchdog = (1u << 29) | (1u << 26), /* IWDGRSTF, PINRSTF */
    .flash_acr = 0x00040600u,
    .latency_field = 0xF,
    .pll_uses_crystal = pll_uses_crystal,
    .pll_hz = pll_hz,
    .core_hz = core_hz,
    .apb1_hz = apb1_hz,
    .timers_hz = timers_hz,
    .can_hz = can_hz,
    .check_limits = check_limits,
};
