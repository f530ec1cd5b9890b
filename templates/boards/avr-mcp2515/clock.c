#include "clock.h"

#include <avr/interrupt.h>
#include <util/atomic.h>

#define LAP_US 32768u /* 2^16 ticks of half a microsecond */

static volatile uint32_t lap_start_us;

ISR(TIMER1_OVF_vect)
{
    lap_start_us += LAP_US;
}

ISR(TIMER1_COMPA_vect)
{
    WAKE_FLAGS |= _BV(WAKE_ALARM);
}

void clock_start(void)
{
    TCCR1A = 0;
    TCNT1 = 0;
    TIFR1 = _BV(TOV1);
    TIMSK1 = _BV(TOIE1);
    TCCR1B = _BV(CS11); /* CPU clock / 8 */
}

uint32_t clock_now_us(void)
{
    uint32_t us;
    uint16_t ticks;
    uint8_t overflowed;

    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        ticks = TCNT1;
        overflowed = TIFR1 & _BV(TOV1);
        us = lap_start_us;
    }
    /* The lap may have ended before ticks was read or between the two reads. */
    if (overflowed != 0u && ticks < 0x8000u) {
        us += LAP_US;
    }
    return us + (ticks >> 1);
}

void clock_set_alarm(uint32_t due_us)
{
    const uint16_t ticks = (uint16_t)((uint16_t)due_us << 1);

    ATOMIC_BLOCK(ATOMIC_RESTORESTATE)
    {
        OCR1A = ticks; /* shares the high-byte latch with TCNT1 */
        TIFR1 = _BV(OCF1A);
        WAKE_FLAGS &= (uint8_t)~_BV(WAKE_ALARM);
        TIMSK1 = _BV(TOIE1) | _BV(OCIE1A);
    }
}
