/* STM32H743 with its first PLL (RM0433, "Reset and Clock Control"; flash from "Embedded flash
 * memory"; from memory). */
#include "clock_tree.h"

#include "report.h"

#define CFGR 0x10
#define D1CFGR 0x18
#define D2CFGR 0x1C
#define PLLCKSELR 0x28
#define PLLCFGR 0x2C
#define PLL1DIVR 0x30
#define D2CCIP1R 0x50

static const clock_register registers[] = {
    {0x00, 0x00000001u | (1u << 2), 0, 0},
    {CFGR, 0, 0xFFFFBFC7u, 0},
    {D1CFGR, 0, 0xF7Fu, 0},
    {D2CFGR, 0, 0x770u, 0},
    {PLLCKSELR, 0x02020200u, 0x03F3F3F3u, 0x3F3u},
    {PLLCFGR, 0x01FF0000u, 0x01FF0FFFu, 0x0007000Fu},
    {PLL1DIVR, 0x01010280u, 0x7F7FFFFFu, 0x7F7FFFFFu},
    {D2CCIP1R, 0, 0xFFFFFFFFu, 0},
    {0x60, 0, 0x3FFu, 0},
    {0x64, 0, 0, 0},
    {0x68, 0, 0, 0},
    {0x94, 0, 0xFFFFFFFFu, 0},
    {0xD0, 0, 0, 0},
    {0xE0, 0, 0xFFFFFFFFu, 0},
    {0xE8, 0, 0xFFFFFFFFu, 0},
    {0xEC, 0, 0xFFFFFFFFu, 0},
    {0xF4, 0x00010000u, 0xFFFFFFFFu, 0},
};

static bool pll_uses_crystal(const clock_tree *clock)
{
    return (clock_tree_value(clock, PLLCKSELR) & 3u) == 2u;
}

static uint32_t oscillator_hz(const clock_tree *clock)
{
    const uint32_t divisor = (clock_tree_value(clock, PLLCKSELR) >> 4) & 0x3Fu;
    const uint32_t input = pll_uses_crystal(clock) ? clock->crystal_hz : 64000000u;
    const uint32_t divided = divisor == 0u ? 0u : input / divisor;
    const uint32_t hz = divided * ((clock_tree_value(clock, PLL1DIVR) & 0x1FFu) + 1u);
    const uint32_t range = (clock_tree_value(clock, PLLCFGR) >> 2) & 3u;
    const bool medium = (clock_tree_value(clock, PLLCFGR) & 2u) != 0u;

    if (divided < (1000000u << range) || divided > (2000000u << range) ||
        hz < (medium ? 150000000u : 192000000u) || hz > (medium ? 420000000u : 836000000u) ||
        (medium && range != 0u)) {
        report_fault("-", "PLL: input %u Hz in range %u, oscillator %u Hz", divided, range, hz);
    }
    return hz;
}

static uint32_t divided_by(const clock_tree *clock, unsigned enable, unsigned field)
{
    const uint32_t divisors = clock_tree_value(clock, PLL1DIVR);

    return (clock_tree_value(clock, PLLCFGR) & (1u << enable)) == 0u
               ? 0u
               : oscillator_hz(clock) / (((divisors >> field) & 0x7Fu) + 1u);
}

static uint32_t pll_hz(const clock_tree *clock)
{
    return divided_by(clock, 16, 9);
}

static uint32_t core_hz(const clock_tree *clock, uint32_t system_hz)
{
    return system_hz / clock_tree_ahb_divisor((clock_tree_value(clock, D1CFGR) >> 8) & 0xFu);
}

static uint32_t ahb_hz(const clock_tree *clock, uint32_t core)
{
    return core / clock_tree_ahb_divisor(clock_tree_value(clock, D1CFGR) & 0xFu);
}

static uint32_t apb1_hz(const clock_tree *clock, uint32_t core)
{
    return ahb_hz(clock, core) /
           clock_tree_apb_divisor((clock_tree_value(clock, D2CFGR) >> 4) & 7u);
}

static uint32_t timers_hz(const clock_tree *clock, uint32_t core)
{
    const uint32_t apb1 = apb1_hz(clock, core);

    return apb1 == ahb_hz(clock, core) ? apb1 : 2u * apb1;
}

static uint32_t can_hz(const clock_tree *clock)
{
    switch ((clock_tree_value(clock, D2CCIP1R) >> 28) & 3u) {
    case 0:
        return clock->crystal_hz;
    case 1:
        return divided_by(clock, 17, 16);
    default:
        return 0; /* the second PLL is not modelled */
    }
}

/* Scale 3, which is what a reset leaves, along with an APB at 64 MHz. */
static void check_limits(const clock_tree *clock, uint32_t system_hz)
{
    static const uint32_t limits[3] = {45000000u, 90000000u, 100000000u};
    const uint32_t core = core_hz(clock, system_hz);

    clock_tree_check_flash(clock, ahb_hz(clock, core), limits, 3);
    if (core > 200000000u || (system_hz != 64000000u && apb1_hz(clock, core) > 50000000u)) {
        report_fault("-", "core %u Hz, APB1 %u Hz: too fast for supply scale 3", core,
                     apb1_hz(clock, core));
    }
}

const clock_family clock_h7 = {
    .registers = registers,
    .register_count = sizeof registers / sizeof registers[0],
    .control = 0x00,
    .internal_on = 1u << 0,
    .internal_ready = 1u << 2,
    .configuration = CFGR,
    .switch_mask = 7,
    .status_shift = 3,
    .internal_code = 0,
    .crystal_code = 2,
    .pll_code = 3,
    .internal_hz = 64000000u,
    .flags = 0x64,
    .security_flag = 1u << 10,
    .clear = 0x68,
    .security_clear = 1u << 10,
    .cause = 0xD0,
    .cause_flags = 0x55FE0000u,
    .cause_remove = 1u << 16,
    .cause_power = (1u << 23) | (1u << 22) | (1u << 21) | (1u << 17), /* POR, PIN, BOR, CPU */
    .cause_watchdog = (1u << 26) | (1u << 22) | (1u << 17),           /* IWDG1, PIN, CPU */
    .flash_acr = 0x37u,
    .latency_field = 0xF,
    .pll_uses_crystal = pll_uses_crystal,
    .pll_hz = pll_hz,
    .core_hz = core_hz,
    .apb1_hz = apb1_hz,
    .timers_hz = timers_hz,
    .can_hz = can_hz,
    .check_limits = check_limits,
};
