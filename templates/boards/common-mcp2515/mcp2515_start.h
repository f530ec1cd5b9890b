/* Brings one controller from reset into normal mode. */
#ifndef MCP2515_START_H
#define MCP2515_START_H

#include <stdbool.h>
#include <stdint.h>

/* False: no answer within 25 ms. Takes at most 5 ms more while the bus is not idle. */
bool mcp2515_start(uint8_t controller);

/* Its two parts for a controller that is in configuration mode. */
void mcp2515_configure(uint8_t controller);
void mcp2515_join(uint8_t controller);

/* The reset instruction alone; then 128 periods of the crystal have to pass. */
void mcp2515_reset(uint8_t controller);

/* Has this board's bit timing and was told to take part. */
bool mcp2515_is_configured(uint8_t controller);

/* Answers, and waits in configuration mode. */
bool mcp2515_awaits_settings(uint8_t controller);

#endif
