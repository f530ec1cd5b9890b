/*
 * Transmit side of MCP2515-class SPI controllers. Nothing is received: the filters are shut.
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

/* Resets and configures all controllers; gives up on one that does not answer within 25 ms. */
void mcp2515_init(void);

bool mcp2515_send(const locum_frame *frame);

/*
 * Call before sleeping for room: releases the interrupt lines of the controllers. True if a buffer
 * became free since the last look.
 */
bool mcp2515_made_room(void);

/* A controller holds its interrupt line low: a buffer became free since mcp2515_made_room. */
bool mcp2515_calls(void);

#endif
