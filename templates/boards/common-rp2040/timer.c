/* The 64-bit timer, of which the low 32 bits are looked at; alarm 0 is the alarm clock. */
#include "rp2040_parts.h"

void timer_start(void)
{
    TIMER_INTE = 1u;
    NVIC_ISER = IRQ_TIMER_0;
}

uint32_t timer_now(void)
{
    return TIMER_RAWL;
}

/* It rings only at the moment itself, so the caller looks at the time before it sleeps. */
void timer_alarm(uint32_t at_us)
{
    TIMER_ARMED = 1u;
    TIMER_INTR = 1u;
    NVIC_ICPR = IRQ_TIMER_0;
    TIMER_ALARM0 = at_us;
}
