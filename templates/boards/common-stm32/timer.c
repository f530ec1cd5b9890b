/* TIM2 counts microseconds in 32 bits; its first compare channel is the alarm clock. */
#include "board_parts.h"

void timer_start(void)
{
    CHIP_CLOCK_TIM2();

    TIM_ARR(TIM2) = UINT32_MAX;
    TIM_PSC(TIM2) = CHIP_TIMER_MHZ - 1u;
    TIM_EGR(TIM2) = TIM_EGR_UG; /* loads the prescaler */
    TIM_SR(TIM2) = 0;
    TIM_DIER(TIM2) = TIM_CC1;
    NVIC_ISER(IRQ_TIM2) = NVIC_BIT(IRQ_TIM2);
    TIM_CR1(TIM2) = TIM_CR1_CEN;
}

uint32_t timer_now(void)
{
    return TIM_CNT(TIM2);
}

void timer_alarm(uint32_t at_us)
{
    TIM_CCR1(TIM2) = at_us;
    TIM_SR(TIM2) = ~TIM_CC1;
    NVIC_ICPR(IRQ_TIM2) = NVIC_BIT(IRQ_TIM2);
}
