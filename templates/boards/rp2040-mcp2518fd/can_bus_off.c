/*
 * Bus-off, for boards that count it. A controller would come back by itself, so it is reset and
 * stays in configuration mode until it is told otherwise. That also clears its error counters, and
 * with them its own count of recessive bits: for the time of 128 times 11 bits it then takes frames
 * without sending them, and lets none in.
 */
#include "mcp2518fd.h"

#if LOCUM_GUARD_BUS_OFF

enum { ON, OFF, COMING };

static const uint32_t recovery_us[BOARD_CONTROLLER_COUNT] = {BOARD_RECOVERY_US};
static uint8_t states[BOARD_CONTROLLER_COUNT];
static uint32_t begins_us[BOARD_CONTROLLER_COUNT]; /* one that is coming */

bool can_is_off(uint8_t bus)
{
    return states[bus] != ON;
}

bool can_holds_back(uint8_t bus)
{
    return states[bus] == COMING;
}

void can_restart(uint8_t bus)
{
    begins_us[bus] = timer_now() + recovery_us[bus];
    controller_configure(bus);
    controller_join(bus);
    states[bus] = COMING;
}

static void look(uint8_t bus)
{
    const uint32_t flags = link_read_word(bus, MCP_INT);

    if ((flags & MCP_INT_CERRIF) == 0u || flags == UINT32_MAX) {
        return;
    }
    link_write_byte(bus, MCP_INT + 1u, (uint8_t)(~MCP_INT_CERRIF >> 8));
    if ((link_read_word(bus, MCP_TREC) & MCP_TREC_TXBO) != 0u) {
        link_reset(bus);
        can_forget(bus);
        states[bus] = OFF;
    }
}

void can_watch(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if (states[bus] == COMING) {
            if ((int32_t)(timer_now() - begins_us[bus]) >= 0) {
                states[bus] = ON;
                can_begin(bus);
            }
        } else if (states[bus] == ON && can_answers(bus) && pins_int_low(bus)) {
            look(bus);
        }
    }
}

uint32_t can_watch_until(uint32_t until_us)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if (states[bus] == COMING && (int32_t)(begins_us[bus] - until_us) < 0) {
            until_us = begins_us[bus];
        }
    }
    return until_us;
}

#endif
