#include "board_parts.h"

/* Each look takes at least 8 cycles: more than 100 ms at 8 MHz, where a crystal needs 2 ms. */
#define CRYSTAL_LOOKS 100000u
#define PLL_LOOKS 10000u

bool board_wait(volatile uint32_t *place, uint32_t mask, uint32_t value, uint32_t looks)
{
    while ((*place & mask) != value) {
        if (looks-- == 0u) {
            return false;
        }
    }
    return true;
}

bool clock_start(void)
{
    RCC_CR |= RCC_CR_HSEON;
    if (!board_wait(&RCC_CR, RCC_CR_HSERDY, RCC_CR_HSERDY, CRYSTAL_LOOKS)) {
        return false;
    }
    FLASH_ACR = FLASH_ACR_PREFETCH | FLASH_ACR_TWO_WAIT_STATES;
    RCC_CFGR = RCC_CFGR_PLLMUL_9 | RCC_CFGR_PLLSRC_HSE | RCC_CFGR_PPRE1_DIV2;
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
