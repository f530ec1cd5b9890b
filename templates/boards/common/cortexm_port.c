#include "cortexm_board.h"

/* Bounds the time between two feeds of the watchdog. */
#define SLICE_US 50000u
/* How often an offer is repeated while a controller is not on its bus yet. */
#define RETRY_US 1000u
/* Bit of the clock that the LED shows while a bus is in trouble: about 4 Hz. */
#define TROUBLE_BLINK_US 131072u
/* A reason for silence: in 16 parts of a quarter of a second each, so many flashes, then dark. */
#define CODE_PART(now_us) (((now_us) >> 18) & 15u)

#if LOCUM_GUARDS
static uint8_t silence;
#endif

bool board_wait(volatile uint32_t *place, uint32_t mask, uint32_t value, uint32_t looks)
{
    while ((*place & mask) != value) {
        if (looks-- == 0u) {
            return false;
        }
    }
    return true;
}

void locum_port_init(void)
{
    board_start();
}

uint32_t locum_port_now_us(void)
{
    return timer_now();
}

locum_input_set locum_port_inputs(void)
{
    return inputs_read();
}

#if LOCUM_OUTPUTS
void locum_port_outputs(locum_output_set levels)
{
    outputs_write(levels);
}
#endif

bool locum_port_send(const locum_frame *frame)
{
    return can_send(frame);
}

#if LOCUM_LISTENS
bool locum_port_receive(locum_frame *frame)
{
    return can_receive(frame);
}
#endif

#if LOCUM_WATCHES_LEAVING
bool locum_port_waits(uint8_t bus, uint32_t id)
{
    return can_waits(bus, id);
}
#endif

#if LOCUM_GUARDS
void locum_port_withdraw(uint8_t bus)
{
    can_withdraw(bus);
}

void locum_port_led(uint8_t code)
{
    silence = code;
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool locum_port_bus_off(uint8_t bus)
{
    return can_is_off(bus);
}

void locum_port_restart(uint8_t bus)
{
    can_restart(bus);
}
#endif

#if LOCUM_GUARD_KEEP
locum_reset_cause locum_port_reset_cause(void)
{
    return board_reset_cause();
}
#endif

static bool before(uint32_t a_us, uint32_t b_us)
{
    return (uint32_t)(a_us - b_us) >= 0x80000000u;
}

static void show(uint32_t now_us)
{
#if LOCUM_GUARDS
    if (silence != LOCUM_TALKS) {
        const uint32_t part = CODE_PART(now_us);

        led_light((part & 1u) == 0u && part < 2u * silence);
        return;
    }
#endif
    led_light(!can_is_in_trouble() || (now_us & TROUBLE_BLINK_US) == 0u);
}

void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room)
{
    const uint32_t now_us = timer_now();
    uint32_t until_us = now_us + (wants_room && !can_is_on_bus() ? RETRY_US : SLICE_US);

    if (has_due && before(due_us, until_us)) {
        until_us = due_us;
    }
#if LOCUM_GUARD_BUS_OFF
    until_us = can_watch_until(until_us);
#endif
    watchdog_feed();
    show(now_us);
    can_wake(wants_room);
    timer_alarm(until_us);
    /* Masked interrupts stay pending and end the sleep, so nothing is lost before it begins. */
    if (before(timer_now(), until_us)) {
        __asm volatile("dsb\n\twfi" ::: "memory");
    }
#if LOCUM_GUARD_BUS_OFF
    can_watch();
#endif
}
