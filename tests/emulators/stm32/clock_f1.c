/* STM32F103 and F105 (RM0008, "Reset and clock control"; flash from "Embedded Flash memory"). */
#include "clock_tree.h"

#include "report.h"

#define CFGR 0x04
#define PLLSRC (1u << 16)

static const clock_register registers[] = {
    {0x00, 0x83u, 0, 0},       {CFGR, 0, 0x07FFFFF3u, 0x003F0000u}, {0x08, 0, 0x1F00u, 0},
    {0x0C, 0, 0xFFFFFFFFu, 0}, {0x10, 0, 0xFFFFFFFFu, 0},           {0x14, 0x14u, 0xFFFFFFFFu, 0},
    {0x18, 0, 0xFFFFFFFFu, 0}, {0x1C, 0, 0xFFFFFFFFu, 0},           {0x24, 0, 0, 0},
};

static bool pll_uses_crystal(const clock_tree *clock)
{
    return (clock_tree_value(clock, CFGR) & PLLSRC) != 0u;
}

static uint32_t pll_hz(const clock_tree *clock)
{
    const uint32_t configuration = clock_tree_value(clock, CFGR);
    const uint32_t field = (configuration >> 18) & 0xFu;
    const uint32_t factor = field >= 14u ? 16u : field + 2u;
    uint32_t input = clock->family->internal_hz / 2u;

    if ((configuration & PLLSRC) != 0u) {
        input = (configuration & (1u << 17)) != 0u ? clock->crystal_hz / 2u : clock->crystal_hz;
    }
    return input * factor;
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

static void check_limits(const clock_tree *clock, uint32_t system_hz)
{
    static const uint32_t limits[3] = {24000000u, 48000000u, 72000000u};

    clock_tree_check_flash(clock, system_hz, limits, 3);
    if (clock_tree_apb1(clock) > 36000000u) {
        report_fault("-", "APB1 clock %u Hz is above 36 MHz", clock_tree_apb1(clock));
    }
}

const clock_family clock_f1 = {
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
    .internal_hz = 8000000u,
    .flags = 0x08,
    .security_flag = 1u << 7,
    .clear = 0x08,
    .security_clear = 1u << 23,
    .cause = 0x24,
    .cause_flags = 0xFC000000u,
    .cause_remove = 1u << 24,
    .cause_power = (1u << 27) | (1u << 26),    /* PORRSTF, PINRSTF */
    .cause_watchdog = (1u << 29) | (1u << 26), /* IWDGRSTF, PINRSTF */
    .flash_acr = 0x30u,
    .latency_field = 7,
    .pll_uses_crystal = pll_uses_crystal,
    .pll_hz = pll_hz,
    .core_hz = core_hz,
    .apb1_hz = apb1_hz,
    .timers_hz = timers_hz,
    .can_hz = clock_tree_apb1,
    .check_limits = check_limits,
};
