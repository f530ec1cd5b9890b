#include "locum_port.h"

#include <avr/interrupt.h>
#include <avr/sleep.h>
#include <avr/wdt.h>

#include "clock.h"
#include "mcp2515.h"
#include "mcp2515_receive.h"
#include "pins.h"
#include "spi.h"

/* A sleep that short would end late; waiting is more exact. */
#define SHORT_US 10

#define NO_ROOM_BLINK_US 1000000u
#define BLINK_BIT_US 0x40000u /* about a quarter of a second on, a quarter off */

#define LISTENS (LOCUM_RECEIVES != 0u)
#define LOST_BLINK_US 1000000u
#define QUICK_BIT_US 0x8000u /* about 15 times a second */

static uint32_t had_room_us;

ISR(PCINT0_vect)
{
    WAKE_FLAGS |= _BV(WAKE_PIN);
}
ISR(PCINT1_vect, ISR_ALIASOF(PCINT0_vect));
ISR(PCINT2_vect, ISR_ALIASOF(PCINT0_vect));

void locum_port_init(void)
{
    MCUSR = 0;
    wdt_enable(WDTO_250MS);
    pins_init();
    spi_init();
    pins_led(true);
    mcp2515_init();
    SMCR = 0; /* sleep is idle: Timer1 goes on */
    clock_start();
    sei();
}

uint32_t locum_port_now_us(void)
{
    return clock_now_us();
}

locum_input_set locum_port_inputs(void)
{
    /* First the flag, then the look: an edge in between ends the next sleep at once. */
    WAKE_FLAGS &= (uint8_t)~_BV(WAKE_PIN);
    return pins_inputs();
}

bool locum_port_send(const locum_frame *frame)
{
    return mcp2515_send(frame);
}

#if LOCUM_CHANNELS
bool locum_port_waits(uint8_t bus, uint32_t id)
{
    return mcp2515_waits(bus, id);
}
#endif

#if LOCUM_RECEIVES
bool locum_port_receive(locum_frame *frame)
{
    return mcp2515_receive(frame);
}

/* True for a second after frames were lost. */
static bool lost_frames(uint32_t now_us)
{
    static uint16_t seen;
    static uint32_t seen_us;
    static bool recent;

    if (mcp2515_overruns() != seen) {
        seen = mcp2515_overruns();
        seen_us = now_us;
        recent = true;
    }
    recent = recent && now_us - seen_us < LOST_BLINK_US;
    return recent;
}
#endif

static void show(uint32_t now_us, bool wants_room)
{
    if (!wants_room) {
        had_room_us = now_us;
    }
#if LOCUM_RECEIVES
    if (lost_frames(now_us)) {
        pins_led((now_us & QUICK_BIT_US) != 0u);
        return;
    }
#endif
    pins_led(now_us - had_room_us < NO_ROOM_BLINK_US || (now_us & BLINK_BIT_US) != 0u);
}

/* Until an interrupt; not at all if a flag is up or, with heeds_calls, a controller calls. */
static void sleep(bool heeds_calls)
{
    cli();
    if (WAKE_FLAGS == 0u && !(heeds_calls && mcp2515_calls())) {
        sleep_enable();
        sei(); /* takes effect behind the next instruction, so nothing gets lost */
        sleep_cpu();
        sleep_disable();
    }
    sei();
}

void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room)
{
    if (wants_room && mcp2515_made_room()) {
        return;
    }
#if LOCUM_RECEIVES
    if (!wants_room) {
        mcp2515_needs_no_room();
    }
#endif
    pins_watch_controllers(wants_room || LISTENS);
    if (has_due) {
        clock_set_alarm(due_us);
    }
    /* A lap of the timer ends each sleep after 33 ms at the latest. */
    do {
        uint32_t now_us;

        wdt_reset();
        WAKE_FLAGS &= (uint8_t)~_BV(WAKE_ALARM);
        now_us = clock_now_us();
        if (has_due && (int32_t)(due_us - now_us) < SHORT_US) {
            while ((int32_t)(due_us - clock_now_us()) > 0) {
            }
            break;
        }
        show(now_us, wants_room);
        sleep(wants_room || LISTENS);
    } while ((WAKE_FLAGS & _BV(WAKE_PIN)) == 0u && !((wants_room || LISTENS) && mcp2515_calls()));
#if LOCUM_RECEIVES
    /* The lines' rise when frames are taken is no reason to wake up. */
    pins_watch_controllers(false);
#endif
}
