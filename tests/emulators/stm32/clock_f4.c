/* STM32F405, F407 and F446 (RM0090 and RM0390, "Reset and clock control"; flash from "Embedded
 * Flash memory interface"; from memory). */
#include "clock_tree.h"

#include "report.h"

#define PLLCFGR 0x04
#define CFGR 0x08

static const clock_register registers[] = {
    {0x00, 0x83u, 0, 0},
    {PLLCFGR, 0x24003010u, 0x7F437FFFu, 0x7F437FFFu},
    {CFGR, 0, 0xFFFFFCF3u, 0},
    {0x0C, 0, 0x3F00u, 0},
    {0x20, 0, 0xFFFFFFFFu, 0},
    {0x24, 0, 0xFFFFFFFFu, 0},
    {0x30, 0x00100000u, 0xFFFFFFFFu, 0},
    {0x40, 0, 0xFFFFFFFFu, 0},
    {0x44, 0, 0xFFFFFFFFu, 0},
    {0x74, 0, 0, 0},
};

static bool pll_uses_crystal(const clock_tree *clock)
{
    return (clock_tree_value(clock, PLLCFGR) & (1u << 22)) != 0u;
}

static uint32_t pll_hz(const clock_tree *clock)
{
    const uint32_t pll = clock_tree_value(clock, PLLCFGR);
    const uint32_t input = pll_uses_crystal(clock) ? clock->crystal_hz : 16000000u;
    const uint32_t divisor = pll & 0x3Fu;
    const uint32_t divided = divisor < 2u ? 0u : input / divisor;
    const uint32_t hz = divided * ((pll >> 6) & 0x1FFu);

    if (divided < 950000u || divided > 2100000u || hz < 100000000u || hz > 432000000u) {
        report_fault("-", "PLL: input %u Hz, oscillator %u Hz", divided, hz);
    }
    return hz / (2u * (((pll >> 16) & 3u) + 1u));
}

static uint32_t core_hz(const clock_tree *clock, uint32_t system_hz)
{
    return system_hz / clock_tree_ahb_divisor((clock_tree_value(clock, CFGR) >> 4) & 0xFu);
}

static uint32_t apb1_hz(const clock_tree *clock, uint32_t core)
{
    return core / clock_tree_apb_divisor((clock_tree_value(clock, CFGR) >> 10) & 7u);
}

static uint32_t timers_hz(const clock_tree *clock, uint32_t core)
{
    const uint32_t apb1 = apb1_hz(clock, core);

    return apb1 == core ? core : 2u * apb1;
}

/* From 2.7 V on; up to 168 MHz without over-drive. */
static void check_limits(const clock_tree *clock, uint32_t system_hz)
{
    static const uint32_t limits[6] = {30000000u,  60000000u,  90000000u,
                                       120000000u, 150000000u, 168000000u};

    clock_tree_check_flash(clock, system_hz, limits, 6);
    if (clock_tree_apb1(clock) > 45000000u) {
        report_fault("-", "APB1 clock %u Hz is above 45 MHz", clock_tree_apb1(clock));
    }
}

const clock_family clock_f4 = {
    .registers = registers,
    .register_count = sizeof registers / sizeof registers[0],
    .control = 0x00,
    .internal_on = 1u << 0,
    .internal_ready = 1u << 1,
    .configuration = CFGR,
    .switch_mask = 3,
    .status_shift = 2,
    .internal_code = 0,
    .crystal_code = 1,
    .pll_code = 2,
    .internal_hz = 16000000u,
    .flags = 0x0C,
    .security_flag = 1u << 7,
    .clear = 0x0C,
    .security_clear = 1u << 23,
    .cause = 0x74,
    .cause_flags = 0xFE000000u,
    .cause_remove = 1u << 24,
    .cause_power = (1u << 27) | (1u << 26) | (1u << 25), /* PORRSTF, PINRSTF, BORRSTF */
    .cause_watchdog = (1u << 29) | (1u << 26),           /* IWDGRSTF, PINRSTF */
    .flash_acr = 0,
    .latency_field = 0xF,
    .pll_uses_crystal = pll_uses_crystal,
    .pll_hz = pll_hz,
    .core_hz = core_hz,
    .apb1_hz = apb1_hz,
    .timers_hz = timers_hz,
    .can_hz = clock_tree_apb1,
    .check_limits = check_limits,
};
