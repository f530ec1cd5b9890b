/*
 * Bus-off of MCP2515-class SPI controllers, only for boards that count them.
 *
 * A controller that went bus-off would come back by itself, so it is reset and stays in
 * configuration mode until mcp2515_restart. That also clears its error counters, and with them its
 * own count of recessive bits: the time of 128 times 11 bits passes in configuration mode instead.
 */
#ifndef MCP2515_BUS_OFF_H
#define MCP2515_BUS_OFF_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_core.h"

#if LOCUM_GUARD_BUS_OFF
/* From the bus-off on, until the controller is told to take part again. */
bool mcp2515_is_off(uint8_t bus);

void mcp2515_restart(uint8_t bus, uint32_t now_us);

/* Call after each sleep: looks at controllers that call or are in trouble, lets those take part
 * again whose time has come. */
void mcp2515_watch(uint32_t now_us);

/* The earlier of due_us (if has_due) and the time of the next call above; false when there is
 * neither.
 */
bool mcp2515_watch_due(bool has_due, uint32_t *due_us);
#endif

#endif
