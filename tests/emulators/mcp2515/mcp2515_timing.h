/* Bit timing that CNF1 to CNF3 and the crystal make (DS20001801, chapter on bit timing). */
#ifndef MCP2515_TIMING_H
#define MCP2515_TIMING_H

#include <stddef.h>

#include "mcp2515_chip.h"

typedef struct {
    double rate;         /* bit/s */
    double sample_point; /* percent */
} mcp2515_timing;

void mcp2515_timing_of(const mcp2515_chip *chip, mcp2515_timing *timing);

/* True if a node with these settings takes part in a bus of that rate; else writes the reason. */
bool mcp2515_timing_fits(const mcp2515_chip *chip, uint32_t rate, char *reason, size_t size);

#endif
