/*
 * Receive side of MCP2515-class SPI controllers, only for boards that listen.
 *
 * RXB0 rolls over into RXB1, so frames that pass the same filters come in the order in which they
 * left the bus. Of two frames that passed filters of different buffers and were found together,
 * the one in RXB0 comes first.
 */
#ifndef MCP2515_RECEIVE_H
#define MCP2515_RECEIVE_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_core.h"

#if LOCUM_LISTENS
/*
 * Takes a data frame, the controllers in turn. False when there is none, but also when two times
 * as many frames as there are controllers were taken since the last false: a flood must not keep
 * the scheduler from its work. The interrupt lines stay low while frames wait.
 */
bool mcp2515_receive(locum_frame *frame);

/* How often a controller was found to have lost frames because its buffers were full; stops at
 * 65535. */
uint16_t mcp2515_overruns(void);
#endif

#endif
