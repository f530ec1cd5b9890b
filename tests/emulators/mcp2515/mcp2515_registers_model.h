/* Reading and writing the registers, with their access rules (DS20001801). */
#ifndef MCP2515_REGISTERS_MODEL_H
#define MCP2515_REGISTERS_MODEL_H

#include "mcp2515_chip.h"

uint8_t registers_read(const mcp2515_chip *chip, uint8_t address);
void registers_write(mcp2515_chip *chip, uint8_t address, uint8_t value, uint64_t now);
bool registers_bit_modifiable(uint8_t address);

/* Sets TXREQ of a transmit buffer. */
void registers_request(mcp2515_chip *chip, unsigned buffer, uint64_t now);

/* Leaves the present mode for the one in CANCTRL if that is possible now. */
void registers_follow_mode(mcp2515_chip *chip);

#endif
