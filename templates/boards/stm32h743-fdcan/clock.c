#include "board_parts.h"

/* Each look takes at least 8 cycles: more than 100 ms at 64 MHz, where a crystal needs 2 ms. */
#define CRYSTAL_LOOKS 800000u
#define PLL_LOOKS 10000u

#if CHIP_CRYSTAL_MHZ < 4 || CHIP_CRYSTAL_MHZ > 48
#error "The crystal has 4 to 48 MHz."
#endif

/*
 * 1 MHz x 320: 80 MHz for the core and the AHB, which the supply's lowest scale bears, 40 MHz for
 * APB1 and, from the same oscillator, for the controllers.
 */
bool clock_start(void)
{
    RCC_CR |= RCC_CR_HSEON;
    if (!board_wait(&RCC_CR, RCC_CR_HSERDY, RCC_CR_HSERDY, CRYSTAL_LOOKS)) {
        return false;
    }
    RCC_PLLCKSELR = RCC_PLLCKSELR_HSE | RCC_PLLCKSELR_M1(CHIP_CRYSTAL_MHZ);
    RCC_PLLCFGR = RCC_PLLCFGR_MEDIUM | RCC_PLLCFGR_P1 | RCC_PLLCFGR_Q1;
    RCC_PLL1DIVR = RCC_PLL1DIVR_N(320u) | RCC_PLL1DIVR_P(4u) | RCC_PLL1DIVR_Q(8u);
    RCC_D2CFGR = RCC_D2CFGR_APB1_DIV2;
    RCC_CR |= RCC_CR_PLLON;
    if (!board_wait(&RCC_CR, RCC_CR_PLLRDY, RCC_CR_PLLRDY, PLL_LOOKS)) {
        return false;
    }
    RCC_CFGR |= RCC_CFGR_SW_PLL;
    if (!board_wait(&RCC_CFGR, RCC_CFGR_SWS_MASK, RCC_CFGR_SWS_PLL, PLL_LOOKS)) {
        return false;
    }
    FLASH_ACR = FLASH_ACR_ONE_WAIT_STATE; /* a reset leaves seven */
    RCC_CR |= RCC_CR_CSSON;
    return true;
}
