#include "board_parts.h"

/* Each look takes at least 8 cycles: more than 100 ms at 16 MHz, where a crystal needs 2 ms. */
#define CRYSTAL_LOOKS 200000u
#define PLL_LOOKS 10000u

/* 4 MHz x 80 / 4: 80 MHz, for the core, APB1 and the controllers. */
#if CHIP_CRYSTAL_MHZ % 4 != 0 || CHIP_CRYSTAL_MHZ < 4 || CHIP_CRYSTAL_MHZ > 48
#error "The crystal has 4, 8, 12, ... or 48 MHz."
#endif
#define PLL_INPUT_DIVISOR (CHIP_CRYSTAL_MHZ / 4u)

bool clock_start(void)
{
    RCC_CR |= RCC_CR_HSEON;
    if (!board_wait(&RCC_CR, RCC_CR_HSERDY, RCC_CR_HSERDY, CRYSTAL_LOOKS)) {
        return false;
    }
    FLASH_ACR =
        (FLASH_ACR & ~FLASH_ACR_LATENCY_MASK) | FLASH_ACR_TWO_WAIT_STATES | FLASH_ACR_PREFETCH;
    RCC_PLLCFGR = RCC_PLLCFGR_HSE | RCC_PLLCFGR_M(PLL_INPUT_DIVISOR) | RCC_PLLCFGR_N(80u) |
                  RCC_PLLCFGR_R_DIV4 | RCC_PLLCFGR_REN;
    RCC_CR |= RCC_CR_PLLON;
    if (!board_wait(&RCC_CR, RCC_CR_PLLRDY, RCC_CR_PLLRDY, PLL_LOOKS)) {
        return false;
    }
    RCC_CFGR |= RCC_CFGR_SW_PLL;
    if (!board_wait(&RCC_CFGR, RCC_CFGR_SWS_MASK, RCC_CFGR_SWS_PLL, PLL_LOOKS)) {
        return false;
    }
    RCC_CR |= RCC_CR_CSSON;
    return true;
}
