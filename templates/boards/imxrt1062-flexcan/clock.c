#include "board_parts.h"

/* The core's divider and multiplexers tell when they have changed. */
static void settle(void)
{
    (void)board_wait(&CCM_CDHIPR, UINT32_MAX, 0, HANDSHAKE_LOOKS);
}

/* 24 MHz x 66 / 2 / 2 = 396 MHz, which the supply as the ROM leaves it bears. */
#define ARM_PLL_FACTOR 66u

bool clock_start(void)
{
    bool locked;

    CCM_CLPCR &= ~CLPCR_LPM_MASK;
    CCM_CCGR(0) |= CCGR0_CAN1_CAN2 | CCGR0_GPIO2;
    CCM_CCGR(1) |= CCGR1_GPT1_GPIO1;
    CCM_CCGR(3) |= CCGR3_WDOG1;
    CCM_CCGR(4) |= CCGR4_IOMUXC;
    CCM_CCGR(7) |= CCGR7_CAN3;
    CCM_CSCMR2 = (CCM_CSCMR2 & ~CSCMR2_CAN_MASK) | CSCMR2_CAN_CRYSTAL;

    /* On the crystal while the PLL changes. */
    CCM_CBCMR = (CCM_CBCMR & ~CBCMR_PERIPH_CLK2_MASK) | CBCMR_PERIPH_CLK2_CRYSTAL;
    CCM_CBCDR |= CBCDR_PERIPH_CLK2;
    settle();
    PLL_ARM = PLL_ENABLE | ARM_PLL_FACTOR;
    locked = board_wait(&PLL_ARM, PLL_LOCK, PLL_LOCK, HANDSHAKE_LOOKS);
    if (!locked) {
        return false;
    }
    CCM_CACRR = CACRR_ARM_HALVED;
    CCM_CBCDR = (CCM_CBCDR & ~(CBCDR_AHB_MASK | CBCDR_IPG_MASK)) | CBCDR_IPG_BY_3;
    CCM_CBCMR |= CBCMR_PRE_PERIPH_ARM_PLL;
    settle();
    CCM_CBCDR &= ~CBCDR_PERIPH_CLK2;
    settle();
    return true;
}
