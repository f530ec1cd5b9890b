/*
 * Transmit side of MCP2515-class SPI controllers. Boards that do not listen keep the filters shut.
 *
 * A controller sends the buffer with the highest priority field (TXP) first and among equals the
 * one with the highest number. Each loaded buffer gets such a rank that the buffers leave in the
 * order of arbitration, whatever order they were loaded in.
 */
#ifndef MCP2515_H
#define MCP2515_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_core.h"

/* The interrupt lines tell of receptions or of errors, and of room only while it is wanted. */
#define MCP2515_LINES_ARE_SHARED (LOCUM_LISTENS || LOCUM_GUARD_BUS_OFF)

/* Resets and configures all controllers; gives up on one that does not answer within 25 ms. */
void mcp2515_init(void);

bool mcp2515_send(const locum_frame *frame);

#if LOCUM_WATCHES_LEAVING
/* True while a frame with this identifier waits in a buffer or is on the wire. */
bool mcp2515_waits(uint8_t bus, uint32_t id);
#endif

/*
 * Call before sleeping for room: releases the interrupt lines of the controllers. True if a buffer
 * became free since the last look.
 */
bool mcp2515_made_room(void);

/*
 * A controller holds its interrupt line low: a buffer became free since mcp2515_made_room, on a
 * board that listens a frame waits to be taken, or on one that counts bus-offs something went
 * wrong.
 */
bool mcp2515_calls(void);

#if MCP2515_LINES_ARE_SHARED
/* Call before sleeping when no room is wanted: buffers that become free do not pull the interrupt
 * lines then. */
void mcp2515_needs_no_room(void);
#endif

/* False from a look that found no controller on. */
bool mcp2515_answers(uint8_t bus);

/*
 * Now and then, when there is time: a controller that lost its supply, or that was reset by a
 * glitch, gets its settings again, without the frames it had. One that does not answer is asked
 * again each time. True if a controller has room that it had not before.
 */
bool mcp2515_look_after(void);

#if LOCUM_GUARDS
/* Changes the bits of the mask in a register that allows it. */
void mcp2515_modify(uint8_t bus, uint8_t address, uint8_t mask, uint8_t value);

/* Takes the frames in the buffers back; one on the wire goes on, and its buffer waits for its end.
 */
void mcp2515_withdraw(uint8_t bus);
#endif

/* The controller was reset: its buffers are empty, nothing pulls its interrupt line. */
void mcp2515_forget(uint8_t bus);

#endif
