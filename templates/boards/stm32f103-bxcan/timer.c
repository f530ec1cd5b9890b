/*
 * TIM2 counts microseconds, TIM3 counts the overflows of TIM2: 32 bits without software. TIM2's
 * first compare channel is the alarm clock.
 */
#include "board_parts.h"

#define TIMER_CLOCK_MHZ 72u /* APB1 is divided, so its timers run at twice 36 MHz */
#define FULL_SCALE 0xFFFFu

void timer_start(void)
{
    RCC_APB1ENR |= RCC_APB1_TIM2 | RCC_APB1_TIM3;

    TIM_ARR(TIM2) = FULL_SCALE;
    TIM_PSC(TIM2) = TIMER_CLOCK_MHZ - 1u;
    TIM_EGR(TIM2) = TIM_EGR_UG; /* loads the prescaler; before TIM3 counts updates */
    TIM_SR(TIM2) = 0;
    TIM_CR2(TIM2) = TIM_CR2_TRGO_UPDATE;

    TIM_ARR(TIM3) = FULL_SCALE;
    TIM_SMCR(TIM3) = TIM_SMCR_ITR1_CLOCKS;
    TIM_CR1(TIM3) = TIM_CR1_CEN;

    TIM_DIER(TIM2) = TIM_CC1;
    NVIC_ISER(IRQ_TIM2) = NVIC_BIT(IRQ_TIM2);
    TIM_CR1(TIM2) = TIM_CR1_CEN;
}

uint32_t timer_now(void)
{
    uint32_t high;
    uint32_t low;

    /* The carry takes some cycles: low = 0 is waited out, at most 1 us in 65 ms. */
    do {
        high = TIM_CNT(TIM3);
        low = TIM_CNT(TIM2);
    } while (low == 0u || high != TIM_CNT(TIM3));
    return (high << 16) | low;
}

void timer_alarm(uint32_t at_us)
{
    TIM_CCR1(TIM2) = at_us & FULL_SCALE;
    TIM_SR(TIM2) = ~TIM_CC1;
    NVIC_ICPR(IRQ_TIM2) = NVIC_BIT(IRQ_TIM2);
}
