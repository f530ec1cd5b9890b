/*
 * Model of an MCP2515 as its data sheet (Microchip DS20001801) describes it: SPI instructions,
 * registers, modes, transmit priorities, acceptance filters, interrupt line, transmit errors up to
 * bus-off.
 *
 * Times are nanoseconds. Not modelled: error frames, receive errors, sleep and wake-up, one-shot
 * mode, aborting all buffers at once, the RXnBF, TXnRTS and CLKOUT pins.
 */
#ifndef MCP2515_CHIP_H
#define MCP2515_CHIP_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_core.h"

#define MCP2515_BUFFERS 3
#define MCP2515_BYTES 8

typedef struct {
    uint32_t crystal_hz;
    uint64_t ready_at; /* deaf until then: oscillator start-up timer */
    uint8_t reg[128];
    uint64_t requested_at[MCP2515_BUFFERS]; /* TXREQ was set */
    int on_wire;                            /* transmit buffer being sent, or -1 */
    bool selected;
    unsigned taken; /* bytes since the chip was selected */
    uint8_t instruction;
    uint8_t address;
    uint8_t mask;
    unsigned transmit_errors; /* 256: bus-off */
    unsigned received;        /* frames that passed the filters into a buffer */
    unsigned overruns;        /* frames lost because the receive buffers were full */
    const char *complaint;    /* what the firmware did that the data sheet forbids, or null */
} mcp2515_chip;

/* Power comes up at 0; the crystal needs start_ns before the start-up timer counts. */
void mcp2515_power_on(mcp2515_chip *chip, uint32_t crystal_hz, uint64_t start_ns);

/* Chip select low or high. */
void mcp2515_select(mcp2515_chip *chip, bool selected, uint64_t now);

/* The eighth clock of a byte: what came in; returns what went out meanwhile. */
uint8_t mcp2515_exchange(mcp2515_chip *chip, uint8_t in, uint64_t now);

bool mcp2515_int_low(const mcp2515_chip *chip);

/* The transmit buffer that takes part in the next arbitration, or -1. */
int mcp2515_candidate(const mcp2515_chip *chip);

void mcp2515_frame_in(const mcp2515_chip *chip, int buffer, locum_frame *frame);

/* In a mode in which it takes in what passes, and not bus-off. */
bool mcp2515_on_bus(const mcp2515_chip *chip);

/*
 * Modes. What CANCTRL asks for is entered when nothing waits to be sent, and normal and listen-only
 * mode only behind 11 recessive bits, which the bus counts.
 */
bool mcp2515_wants_to_join(const mcp2515_chip *chip);
void mcp2515_join(mcp2515_chip *chip);

/* The transmit error counter has another value; 0 from bus-off on: it is back. */
void mcp2515_count_errors(mcp2515_chip *chip, unsigned transmit_errors);
bool mcp2515_is_off(const mcp2515_chip *chip);

/* The buffer left over the wire. */
void mcp2515_sent(mcp2515_chip *chip, int buffer);

/* Another node's frame passed, or (without data) its request for one. */
void mcp2515_heard(mcp2515_chip *chip, const locum_frame *frame, bool remote);

#endif
