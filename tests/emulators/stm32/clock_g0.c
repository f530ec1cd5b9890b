/* STM32G0B1 (RM0444, "Reset and clock control"; flash from "Embedded Flash memory"; from memory).
 */
#include "clock_tree.h"

#include "report.h"

#define CFGR 0x08
#define PLLCFGR 0x0C
#define CCIPR2 0x58

static const clock_register registers[] = {
    {0x00, 0x00000500u, 0, 0},
    {CFGR, 0, 0xFFFF7F07u, 0},
    {PLLCFGR, 0x00001000u, 0xFFFF7F73u, 0xEE3E7F73u},
    {0x18, 0, 0x3Bu, 0},
    {0x1C, 0, 0, 0},
    {0x20, 0, 0, 0},
    {0x2C, 0, 0xFFFFFFFFu, 0},
    {0x34, 0, 0xFFFFFFFFu, 0},
    {0x3C, 0, 0xFFFFFFFFu, 0},
    {0x40, 0, 0xFFFFFFFFu, 0},
    {CCIPR2, 0, 0x330Fu, 0},
    {0x60, 0, 0, 0},
};

static bool pll_uses_crystal(const clock_tree *clock)
{
    return (clock_tree_value(clock, PLLCFGR) & 3u) == 3u;
}

static uint32_t oscillator_hz(const clock_tree *clock)
{
    const uint32_t pll = clock_tree_value(clock, PLLCFGR);
    const uint32_t input = pll_uses_crystal(clock) ? clock->crystal_hz : 16000000u;
    const uint32_t divided = input / (((pll >> 4) & 7u) + 1u);
    const uint32_t hz = divided * ((pll >> 8) & 0x7Fu);

    if (divided < 2660000u || divided > 16000000u || hz < 96000000u || hz > 344000000u) {
        report_fault("-", "PLL: input %u Hz, oscillator %u Hz", divided, hz);
    }
    return hz;
}

static uint32_t divided_by(const clock_tree *clock, unsigned enable, unsigned field)
{
    const uint32_t pll = clock_tree_value(clock, PLLCFGR);

    return (pll & (1u << enable)) == 0u ? 0u : oscillator_hz(clock) / (((pll >> field) & 7u) + 1u);
}

static uint32_t pll_hz(const clock_tree *clock)
{
    return divided_by(clock, 28, 29);
}

static uint32_t core_hz(const clock_tree *clock, uint32_t system_hz)
{
    return system_hz / clock_tree_ahb_divisor((clock_tree_value(clock, CFGR) >> 8) & 0xFu);
}

static uint32_t apb1_hz(const clock_tree *clock, uint32_t core)
{
    return core / clock_tree_apb_divisor((clock_tree_value(clock, CFGR) >> 12) & 7u);
}

static uint32_t timers_hz(const clock_tree *clock, uint32_t core)
{
    const uint32_t apb = apb1_hz(clock, core);

    return apb == core ? core : 2u * apb;
}

static uint32_t can_hz(const clock_tree *clock)
{
    switch ((clock_tree_value(clock, CCIPR2) >> 8) & 3u) {
    case 0:
        return clock_tree_apb1(clock);
    case 1:
        return divided_by(clock, 24, 25);
    default:
        return clock->crystal_hz;
    }
}

static void check_limits(const clock_tree *clock, uint32_t system_hz)
{
    static const uint32_t limits[3] = {24000000u, 48000000u, 64000000u};

    clock_tree_check_flash(clock, system_hz, limits, 3);
}

const clock_family clock_g0 = {
    .registers = registers,
    .register_count = sizeof registers / sizeof registers[0],
    .control = 0x00,
    .internal_on = 1u << 8,
    .internal_ready = 1u << 10,
    .configuration = CFGR,
    .switch_mask = 7,
    .status_shift = 3,
    .internal_code = 0,
    .crystal_code = 1,
    .pll_code = 2,
    .internal_hz = 16000000u,
    .flags = 0x1C,
    .security_flag = 1u << 8,
    .clear = 0x20,
    .security_clear = 1u << 8,
    .cause = 0x60,
    .cause_flags = 0xFE000000u,
    .cause_remove = 1u << 23,
    .cause_power = (1u << 27) | (1u << 26),    /* PWRRSTF, PINRSTF */
    .cause_watchdog = (1u << 29) | (1u << 26), /* IWDGRSTF, PINRSTF */
    .flash_acr = 0x00040600u,
    .latency_field = 7,
    .pll_uses_crystal = pll_uses_crystal,
    .pll_hz = pll_hz,
    .core_hz = core_hz,
    .apb1_hz = apb1_hz,
    .timers_hz = timers_hz,
    .can_hz = can_hz,
    .check_limits = check_limits,
};
