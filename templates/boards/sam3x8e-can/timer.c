/*
 * The first timer counter, 32 bits at 42 MHz: it turns over after 102 s, and is looked at far more
 * often. Its compare register C is the alarm clock.
 */
#include "board_parts.h"

#define TICKS_PER_US 42u

static uint32_t seen_ticks; /* at which it was seen_us */
static uint32_t seen_us;

void timer_start(void)
{
    PMC_PCER0 = 1u << ID_TC0;
    TC_CMR = TC_WAVE_UP;
    TC_IER = TC_COMPARE_C;
    TC_CCR = TC_START;
    NVIC_ISER(ID_TC0) = NVIC_BIT(ID_TC0);
}

uint32_t timer_now(void)
{
    const uint32_t passed_us = (uint32_t)(TC_CV - seen_ticks) / TICKS_PER_US;

    seen_ticks += passed_us * TICKS_PER_US;
    seen_us += passed_us;
    return seen_us;
}

void timer_alarm(uint32_t at_us)
{
    TC_RC = seen_ticks + (uint32_t)(at_us - seen_us) * TICKS_PER_US;
    (void)TC_SR;
    NVIC_ICPR(ID_TC0) = NVIC_BIT(ID_TC0);
}
