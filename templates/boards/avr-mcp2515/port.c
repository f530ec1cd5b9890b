#include "locum_port.h"

#include <avr/interrupt.h>
#include <avr/sleep.h>
#include <avr/wdt.h>

#include "clock.h"
#include "mcp2515.h"
#include "mcp2515_bus_off.h"
#include "mcp2515_receive.h"
#include "pins.h"
#include "spi.h"

/* A sleep that short would end late; waiting is more exact. */
#define SHORT_US 10

#define NO_ROOM_BLINK_US 1000000u
#define BLINK_BIT_US 0x40000u /* about a quarter of a second on, a quarter off */

#define LOST_BLINK_US 1000000u
#define QUICK_BIT_US 0x8000u /* about 15 times a second */

/* A reason for silence: so many flashes of a quarter of a second in the first of 16 parts, the rest
 * of which are dark. */
#define CODE_PART(now_us) ((uint8_t)((now_us) >> 18) & 15u)

/* Controllers are looked after so often, in pauses that are long enough, or when they take no
 * frames. */
#define LOOK_AFTER_US 1000000u
#define PAUSE_US 2000

static uint32_t had_room_us;
static uint32_t looked_us;
#if LOCUM_GUARDS
static uint8_t silence;
#endif
#if LOCUM_GUARD_KEEP
static uint8_t reset_flags;
#endif

ISR(PCINT0_vect)
{
    WAKE_FLAGS |= _BV(WAKE_PIN);
}
ISR(PCINT1_vect, ISR_ALIASOF(PCINT0_vect));
ISR(PCINT2_vect, ISR_ALIASOF(PCINT0_vect));

void locum_port_init(void)
{
    /* After a watchdog reset the watchdog goes on with its shortest time, 16 ms, as long as its
     * flag is up; to get here takes less than one. */
#if LOCUM_GUARD_KEEP
    reset_flags = MCUSR;
#endif
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

#if LOCUM_OUTPUTS
void locum_port_outputs(locum_output_set levels)
{
    pins_outputs(levels);
}
#endif

bool locum_port_send(const locum_frame *frame)
{
    return mcp2515_send(frame);
}

#if LOCUM_WATCHES_LEAVING
bool locum_port_waits(uint8_t bus, uint32_t id)
{
    return mcp2515_waits(bus, id);
}
#endif

#if LOCUM_GUARDS
void locum_port_withdraw(uint8_t bus)
{
    mcp2515_withdraw(bus);
}

void locum_port_led(uint8_t code)
{
    silence = code;
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool locum_port_bus_off(uint8_t bus)
{
    return mcp2515_is_off(bus);
}

void locum_port_restart(uint8_t bus)
{
    mcp2515_restart(bus, clock_now_us());
}
#endif

#if LOCUM_GUARD_KEEP
/* No flag at all: a bootloader has cleared them. The reset pin keeps the memory, too. */
locum_reset_cause locum_port_reset_cause(void)
{
    if ((reset_flags & _BV(PORF)) != 0u) {
        return LOCUM_RESET_POWER;
    }
    return (reset_flags & (_BV(WDRF) | _BV(BORF))) == _BV(WDRF) ? LOCUM_RESET_WATCHDOG
                                                                : LOCUM_RESET_BROWNOUT;
}
#endif

#if LOCUM_LISTENS
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
#if LOCUM_GUARDS
    if (silence != LOCUM_TALKS) {
        const uint8_t part = CODE_PART(now_us);

        pins_led((part & 1u) == 0u && part < (uint8_t)(silence << 1));
        return;
    }
#endif
#if LOCUM_LISTENS
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

static bool looks_after(uint32_t now_us, bool has_due, uint32_t due_us)
{
    return now_us - looked_us >= LOOK_AFTER_US &&
           (!has_due || (int32_t)(due_us - now_us) > PAUSE_US ||
            now_us - had_room_us >= NO_ROOM_BLINK_US);
}

void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room)
{
    uint32_t now_us = clock_now_us();

    if (looks_after(now_us, has_due, due_us)) {
        looked_us = now_us;
        if (mcp2515_look_after()) {
            return;
        }
    }
    if (wants_room && mcp2515_made_room()) {
        return;
    }
#if MCP2515_LINES_ARE_SHARED
    if (!wants_room) {
        mcp2515_needs_no_room();
    }
#endif
#if LOCUM_GUARD_BUS_OFF
    has_due = mcp2515_watch_due(has_due, &due_us);
#endif
    pins_watch_controllers(wants_room || MCP2515_LINES_ARE_SHARED);
    if (has_due) {
        clock_set_alarm(due_us);
    }
    /* A lap of the timer ends each sleep after 33 ms at the latest. */
    do {
        wdt_reset();
        WAKE_FLAGS &= (uint8_t)~_BV(WAKE_ALARM);
        now_us = clock_now_us();
        if (has_due && (int32_t)(due_us - now_us) < SHORT_US) {
            while ((int32_t)(due_us - clock_now_us()) > 0) {
            }
            break;
        }
        show(now_us, wants_room);
        sleep(wants_room || MCP2515_LINES_ARE_SHARED);
    } while ((WAKE_FLAGS & _BV(WAKE_PIN)) == 0u &&
             !((wants_room || MCP2515_LINES_ARE_SHARED) && mcp2515_calls()) &&
             !looks_after(now_us, has_due, due_us));
#if MCP2515_LINES_ARE_SHARED
    /* The lines' rise when frames are taken is no reason to wake up. */
    pins_watch_controllers(false);
#endif
#if LOCUM_GUARD_BUS_OFF
    mcp2515_watch(clock_now_us());
#endif
}
