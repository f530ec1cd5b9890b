/* What the controllers' driver needs of the RP2040. */
#ifndef MCP2515_BOARD_H
#define MCP2515_BOARD_H

#include "pins.h"
#include "rp2040_parts.h"
#include "spi.h"

/* Passes a time without the watchdog. */
#define MCP2515_PAUSE(us) board_pause(us)

#endif
