#include "board_parts.h"

/* Each look takes at least 8 cycles: more than 100 ms at 16 MHz, where a crystal needs 2 ms. */
#define CRYSTAL_LOOKS 200000u
#define PLL_LOOKS 10000u

#if CHIP_CRYSTAL_MHZ < 4 || CHIP_CRYSTAL_MHZ > 26
#error "The crystal has 4 to 26 MHz."
#endif

/* 1 MHz times 4 times the core's clock, divided by 4; APB1, and with it the controllers, has half
 * of that. */
bool clock_start(void)
{
    RCC_CR |= RCC_CR_HSEON;
    if (!board_wait(&RCC_CR, RCC_CR_HSERDY, RCC_CR_HSERDY, CRYSTAL_LOOKS)) {
        return false;
    }
    FLASH_ACR = FLASH_ACR_PREFETCH_CACHES | FLASH_ACR_TWO_WAIT_STATES;
    RCC_PLLCFGR = RCC_PLLCFGR_HSE | RCC_PLLCFGR_M(CHIP_CRYSTAL_MHZ) |
                  RCC_PLLCFGR_N(4u * CHIP_CORE_MHZ) | RCC_PLLCFGR_P_DIV4 | RCC_PLLCFGR_Q(8u) |
                  RCC_PLLCFGR_R(2u);
    RCC_CR |= RCC_CR_PLLON;
    if (!board_wait(&RCC_CR, RCC_CR_PLLRDY, RCC_CR_PLLRDY, PLL_LOOKS)) {
        return false;
    }
    RCC_CFGR = RCC_CFGR_PPRE1_DIV2; /* before the faster clock */
    RCC_CFGR |= RCC_CFGR_SW_PLL;
    if (!board_wait(&RCC_CFGR, RCC_CFGR_SWS_MASK, RCC_CFGR_SWS_PLL, PLL_LOOKS)) {
        return false;
    }
    RCC_CR |= RCC_CR_CSSON;
    return true;
}
