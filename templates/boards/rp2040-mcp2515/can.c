/* The controllers, as cortexm_port.c sees them. */
#include "mcp2515.h"
#include "mcp2515_board.h"
#include "mcp2515_bus_off.h"
#include "mcp2515_receive.h"
#include "rp2040_parts.h"

/* 8.9 MHz of the 10 MHz that a controller bears (DS20001801, "SPI Interface AC Characteristics").
 */
#define SPI_DIVISOR 7u
/* Frames that wait for a controller so long mean trouble. */
#define NO_ROOM_US 1000000u
/* How often the controllers are looked after. */
#define LOOK_AFTER_US 40000u

static uint32_t had_room_us;

void can_start(void)
{
    spi_start(SPI_DIVISOR);
    mcp2515_init();
}

bool can_send(const locum_frame *frame)
{
    return mcp2515_send(frame);
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
    return mcp2515_waits(bus, id);
}
#endif

static void look_after(uint32_t now_us)
{
    static uint32_t looked_us;

    if (now_us - looked_us >= LOOK_AFTER_US) {
        looked_us = now_us;
        (void)mcp2515_look_after();
    }
}

void can_wake(bool enable)
{
    look_after(timer_now());
    if (enable) {
        if (mcp2515_made_room()) {
            NVIC_ISPR = IRQ_IO_BANK0; /* no need to wait */
        }
    } else {
        had_room_us = timer_now();
#if MCP2515_LINES_ARE_SHARED
        mcp2515_needs_no_room();
#endif
    }
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        pins_heed(bus, (enable || MCP2515_LINES_ARE_SHARED) && mcp2515_answers(bus));
    }
}

/* Frames that are handed over before a controller takes part wait in it. */
bool can_is_on_bus(void)
{
    return true;
}

bool can_is_in_trouble(void)
{
    return timer_now() - had_room_us >= NO_ROOM_US;
}

#if LOCUM_LISTENS
volatile uint32_t can_overruns;

bool can_receive(locum_frame *frame)
{
    const bool received = mcp2515_receive(frame);

    can_overruns = mcp2515_overruns();
    return received;
}
#endif

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
    mcp2515_withdraw(bus);
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool can_is_off(uint8_t bus)
{
    return mcp2515_is_off(bus);
}

void can_restart(uint8_t bus)
{
    mcp2515_restart(bus, timer_now());
}

void can_watch(void)
{
    mcp2515_watch(timer_now());
}

uint32_t can_watch_until(uint32_t until_us)
{
    (void)mcp2515_watch_due(true, &until_us);
    return until_us;
}
#endif
