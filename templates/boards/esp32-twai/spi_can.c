/* The bus whose controller is on SPI. The controllers' driver counts controllers: there is one. */
#include "board_parts.h"
#include "mcp2515.h"
#include "mcp2515_bus_off.h"
#include "mcp2515_receive.h"
#include "spi.h"

/* Frames that wait for the controller so long mean trouble. */
#define NO_ROOM_US 1000000u
/* How often the controller is looked after. */
#define LOOK_AFTER_US 40000u

static uint32_t had_room_us;
static uint32_t looked_us;

void spi_can_start(void)
{
    spi_start();
    mcp2515_init();
}

bool spi_can_send(const locum_frame *frame)
{
    locum_frame own = *frame;

    own.bus = 0;
    return mcp2515_send(&own);
}

bool spi_can_is_in_trouble(uint32_t now_us)
{
    return now_us - had_room_us >= NO_ROOM_US;
}

bool spi_can_has_news(bool wants_room, uint32_t now_us)
{
    if (!wants_room) {
        had_room_us = now_us;
    }
    if (now_us - looked_us >= LOOK_AFTER_US) {
        looked_us = now_us;
        if (mcp2515_look_after()) {
            return true;
        }
    }
    if (wants_room && mcp2515_made_room()) {
        return true;
    }
#if MCP2515_LINES_ARE_SHARED
    if (!wants_room) {
        mcp2515_needs_no_room();
    }
    return mcp2515_calls();
#else
    return wants_room && mcp2515_calls();
#endif
}

#if LOCUM_LISTENS
bool spi_can_receive(locum_frame *frame)
{
    if (!mcp2515_receive(frame)) {
        return false;
    }
    frame->bus = BOARD_SPI_BUS;
    return true;
}
#endif

#if LOCUM_WATCHES_LEAVING
bool spi_can_waits(uint32_t id)
{
    return mcp2515_waits(0, id);
}
#endif

#if LOCUM_GUARDS
void spi_can_withdraw(void)
{
    mcp2515_withdraw(0);
}
#endif

#if LOCUM_GUARD_BUS_OFF
bool spi_can_is_off(void)
{
    return mcp2515_is_off(0);
}

void spi_can_restart(uint32_t now_us)
{
    mcp2515_restart(0, now_us);
}

void spi_can_watch(uint32_t now_us)
{
    mcp2515_watch(now_us);
}

bool spi_can_watch_due(bool has_due, uint32_t *due_us)
{
    return mcp2515_watch_due(has_due, due_us);
}
#endif
