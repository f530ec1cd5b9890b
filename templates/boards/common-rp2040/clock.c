/* Runs from flash, before there is anything in RAM: no tables, no calls out of it. */
#include "rp2040_parts.h"

#define CRYSTAL_MHZ 12u
#define CRYSTAL_START 47u /* times 256 periods: 1 ms (datasheet of the RP2040, "Startup Delay") */

/* Each look takes some 20 us from flash, and a crystal is ready in 1 ms. */
#define LOOKS 20000u

static IN_FLASH bool comes(volatile uint32_t *place, uint32_t bits)
{
    for (uint32_t looks = LOOKS; (*place & bits) != bits; looks--) {
        if (looks == 0u) {
            return false;
        }
    }
    return true;
}

/* 12 MHz x 125 / 6 / 2 = 125 MHz. */
IN_FLASH void clock_start(void)
{
    XOSC_STARTUP = CRYSTAL_START;
    XOSC_CTRL = XOSC_ENABLE;
    if (!comes(&XOSC_STATUS, XOSC_STABLE)) {
        return;
    }
    CLK_REF_CTRL = CLK_REF_XOSC;
    if (!comes(&CLK_REF_SELECTED, CLK_SELECTED(CLK_REF_XOSC))) {
        return;
    }
    CLEAR_BITS(RESETS_RESET) = RESET_PLL_SYS;
    if (!comes(&RESETS_DONE, RESET_PLL_SYS)) {
        return;
    }
    PLL_CS = 1u; /* reference not divided */
    PLL_FBDIV = 125u;
    CLEAR_BITS(PLL_PWR_ADDRESS) = PLL_PWR_VCO_AND_ALL;
    if (!comes(&PLL_CS, PLL_CS_LOCK)) {
        return;
    }
    PLL_PRIM = PLL_PRIM_DIVIDE(6u, 2u);
    CLEAR_BITS(PLL_PWR_ADDRESS) = PLL_PWR_POSTDIV;
    CLK_SYS_CTRL = CLK_SYS_AUX;
    (void)comes(&CLK_SYS_SELECTED, CLK_SELECTED(CLK_SYS_AUX));
    WATCHDOG_TICK = WATCHDOG_TICK_ENABLE | CRYSTAL_MHZ;
}
