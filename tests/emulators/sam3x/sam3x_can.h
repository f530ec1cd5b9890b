/*
 * A CAN controller of the SAM3X8E after the chapter "Controller Area Network" of its datasheet
 * (from memory) and the vendor's public header: enabling, bit timing, eight mailboxes as receivers,
 * with and without overwriting, or transmitters with priorities, abort, time stamps, errors up to
 * bus-off. Reported: consumer and producer mailboxes and the other modes. Assumed: switching the
 * controller off clears its error counters.
 */
#ifndef SAM3X_CAN_H
#define SAM3X_CAN_H

#include "board.h"

#define SAM3X_BOXES 8u

typedef struct {
    uint32_t mmr;
    uint32_t mam;
    uint32_t mid;
    uint32_t mdl;
    uint32_t mdh;
    uint32_t length;
    uint16_t stamp;
    bool ready;
    bool aborted;
    bool ignored;
    bool on_wire;
    uint64_t asked_at;
} sam3x_box;

typedef struct {
    unsigned bus;
    uint32_t mr;
    uint32_t br;
    uint32_t imr;
    sam3x_box boxes[SAM3X_BOXES];
    bool joined;
    unsigned transmit_errors; /* 256: bus-off */
    /* What it stands on. */
    bool clocked;
    bool wired;
    uint64_t master_hz;
} sam3x_can;

void sam3x_can_reset(sam3x_can *can, unsigned bus);
void sam3x_can_attach(sam3x_can *can);
uint32_t sam3x_can_read(sam3x_can *can, uint32_t offset);
void sam3x_can_write(sam3x_can *can, uint32_t offset, uint32_t value);
bool sam3x_can_requests(const sam3x_can *can);
void sam3x_can_print_waiting(const sam3x_can *can);

#endif
