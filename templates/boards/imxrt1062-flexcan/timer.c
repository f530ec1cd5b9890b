/* General purpose timer 1, 32 bits at 1 MHz from the crystal; its first comparison is the alarm. */
#include "board_parts.h"

#define CRYSTAL_MHZ 24u

void timer_start(void)
{
    GPT_CR = 0;
    GPT_PR = CRYSTAL_MHZ - 1u;
    GPT_CR = GPT_CR_CRYSTAL | GPT_CR_CRYSTAL_ON | GPT_CR_FREE_RUN | GPT_CR_FROM_ZERO;
    GPT_IR = GPT_OF1;
    GPT_CR |= GPT_CR_ENABLE;
    NVIC_ISER(IRQ_GPT1) = NVIC_BIT(IRQ_GPT1);
}

uint32_t timer_now(void)
{
    return GPT_CNT;
}

/* It rings only at the moment itself, so the caller looks at the time before it sleeps. */
void timer_alarm(uint32_t at_us)
{
    GPT_OCR1 = at_us;
    GPT_SR = GPT_OF1;
    NVIC_ICPR(IRQ_GPT1) = NVIC_BIT(IRQ_GPT1);
}
