/*
 * Model of an MCP2518FD as its data sheet (DS20006027) and the family's reference manual
 * (DS20005678) describe it, positions after the public header of the open-source driver mcp251xfd:
 * SPI instructions without checksums, registers, modes, transmit queue and its events, FIFO 1 as
 * receiver, filters into it, interrupt line, errors up to bus-off.
 *
 * Not modelled, and complained about when the firmware uses it: other FIFOs, time stamps,
 * checksums, ECC, the PLL, sleep. Assumed: the place for the next frame stays until it is used,
 * whatever becomes free meanwhile; the queue compares identifiers as arbitration does;
 * configuration mode clears the error counters; a controller comes back from bus-off by itself.
 */
#ifndef MCP2518FD_CHIP_H
#define MCP2518FD_CHIP_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_core.h"

#define MCP2518FD_OBJECTS 32u
#define MCP2518FD_RAM 2048u
#define MCP2518FD_FILTERS 32u

typedef struct {
    bool used;
    bool waits;        /* given to be sent, and not taken back */
    bool asked;        /* takes part in arbitration */
    uint64_t asked_at; /* given */
    locum_frame frame;
} mcp2518fd_slot;

typedef struct {
    uint32_t crystal_hz;
    uint64_t ready_at; /* deaf until then */
    uint8_t ram[MCP2518FD_RAM];
    uint32_t con; /* without OPMOD */
    unsigned mode;
    uint32_t nbtcfg;
    uint32_t dbtcfg;
    uint32_t tdc;
    uint32_t interrupts; /* CiINT: flags that are kept, and enables */
    uint32_t tefcon;
    uint32_t txqcon; /* without the bits of byte 1 */
    uint32_t fifocon1;
    uint8_t fltcon[MCP2518FD_FILTERS];
    uint32_t fltobj[MCP2518FD_FILTERS];
    uint32_t fltmask[MCP2518FD_FILTERS];
    mcp2518fd_slot slots[MCP2518FD_OBJECTS]; /* of the transmit queue */
    int next;        /* slot that the next frame is to be written to, or -1 */
    int on_wire;     /* slot, or -1 */
    unsigned events; /* in the event FIFO, and the first of them */
    unsigned first_event;
    unsigned received; /* in FIFO 1, and the first of them */
    unsigned first_received;
    bool overflowed;
    unsigned transmit_errors; /* 256: bus-off */
    /* SPI */
    bool selected;
    unsigned taken;
    unsigned instruction;
    unsigned address;
    uint64_t now;
    const char *complaint;
} mcp2518fd_chip;

void mcp2518fd_power_on(mcp2518fd_chip *chip, uint32_t crystal_hz, uint64_t from);
void mcp2518fd_select(mcp2518fd_chip *chip, bool selected, uint64_t now);
uint8_t mcp2518fd_exchange(mcp2518fd_chip *chip, uint8_t in, uint64_t now);
bool mcp2518fd_int_low(const mcp2518fd_chip *chip);

/* The slot that takes part in the next arbitration, or -1. */
int mcp2518fd_candidate(const mcp2518fd_chip *chip);
void mcp2518fd_sent(mcp2518fd_chip *chip, int slot);
void mcp2518fd_heard(mcp2518fd_chip *chip, const locum_frame *frame);

bool mcp2518fd_on_bus(const mcp2518fd_chip *chip);
bool mcp2518fd_is_off(const mcp2518fd_chip *chip);
bool mcp2518fd_wants_to_join(const mcp2518fd_chip *chip);
void mcp2518fd_join(mcp2518fd_chip *chip);
void mcp2518fd_count_errors(mcp2518fd_chip *chip, unsigned transmit_errors);

/* Whether a bus of these rates is what the settings make; else writes the reason. */
bool mcp2518fd_fits(const mcp2518fd_chip *chip, uint32_t rate, uint32_t data_rate, char *reason,
                    unsigned size);

#endif
