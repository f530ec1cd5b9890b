#include "mcp2515_bus_off.h"

#if LOCUM_GUARD_BUS_OFF
#include "mcp2515.h"
#include "mcp2515_board.h"
#include "mcp2515_registers.h"
#include "mcp2515_start.h"

#include "locum_rom.h"

/* A bus-off lasts 1408 bit times, so it is seen even at 1 Mbit/s. */
#define LOOK_US 500u

enum {
    ON,
    IN_TROUBLE, /* error counters at 96 or above: looked at every now and then */
    OFF,
    COMING /* restarted, in configuration mode until its time comes */
};

static const uint32_t recovery_us[BOARD_CONTROLLER_COUNT] LOCUM_ROM = {BOARD_RECOVERY_US};

static uint8_t states[BOARD_CONTROLLER_COUNT];
/* Next look at a controller in trouble, or time at which one that is coming takes part. */
static uint32_t dues_us[BOARD_CONTROLLER_COUNT];

static void leave(uint8_t bus)
{
    mcp2515_reset(bus);
    mcp2515_forget(bus);
    states[bus] = OFF;
}

/* The error flag cannot be cleared before its reason is gone (data sheet, interrupt acknowledge),
 * and would keep the interrupt line low for as long: so it is masked, and time asks instead. */
static void look(uint8_t bus, uint32_t now_us)
{
    uint8_t interrupts;
    uint8_t errors;

    pins_select(bus);
    spi_write(MCP_READ);
    spi_write(MCP_CANINTF);
    interrupts = spi_read();
    errors = spi_read();
    pins_deselect();
    if ((errors & MCP_EFLG_BUS_OFF) != 0u) {
        leave(bus);
    } else if ((errors & MCP_EFLG_COUNTERS) != 0u) {
        if (states[bus] == ON) {
            mcp2515_modify(bus, MCP_CANINTE, MCP_INT_ERROR, 0);
            states[bus] = IN_TROUBLE;
        }
        dues_us[bus] = now_us + LOOK_US;
    } else {
        if ((interrupts & MCP_INT_ERROR) != 0u) {
            mcp2515_modify(bus, MCP_CANINTF, MCP_INT_ERROR, 0);
        }
        if (states[bus] == IN_TROUBLE) {
            mcp2515_modify(bus, MCP_CANINTE, MCP_INT_ERROR, MCP_INT_ERROR);
            states[bus] = ON;
        }
    }
}

static bool has_come(uint8_t bus, uint32_t now_us)
{
    return (int32_t)(now_us - dues_us[bus]) >= 0;
}

bool mcp2515_is_off(uint8_t bus)
{
    return states[bus] >= OFF;
}

void mcp2515_restart(uint8_t bus, uint32_t now_us)
{
    mcp2515_configure(bus);
    states[bus] = COMING;
    dues_us[bus] = now_us + LOCUM_ROM_U32(recovery_us[bus]);
}

void mcp2515_watch(uint32_t now_us)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if (states[bus] == COMING) {
            if (has_come(bus, now_us)) {
                mcp2515_join(bus);
                states[bus] = ON;
            }
        } else if (states[bus] == IN_TROUBLE
                       ? has_come(bus, now_us)
                       : states[bus] == ON && mcp2515_answers(bus) && pins_int_low(bus)) {
            look(bus, now_us);
        }
    }
}

bool mcp2515_watch_due(bool has_due, uint32_t *due_us)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if ((states[bus] == IN_TROUBLE || states[bus] == COMING) &&
            (!has_due || (int32_t)(dues_us[bus] - *due_us) < 0)) {
            *due_us = dues_us[bus];
            has_due = true;
        }
    }
    return has_due;
}
#endif
