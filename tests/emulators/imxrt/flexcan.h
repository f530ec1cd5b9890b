/*
 * A FlexCAN controller after IMXRT1060RM, "Flexible Controller Area Network", and its CAN FD
 * variant (from memory, positions as in the vendor's public headers): freezing, bit timing of both
 * kinds, mailboxes of 8 and 64 bytes that send by identifier or receive in chains with masks of
 * their own, safe aborts, time stamps, bus-off with and without recovery. Reported: the receive
 * FIFO, local priorities, lowest buffer first, remote frames.
 */
#ifndef FLEXCAN_H
#define FLEXCAN_H

#include "board.h"

#define FLEXCAN_BOXES 64u
#define FLEXCAN_RAM 0x400u

typedef struct {
    bool waits;  /* to be sent */
    bool aborts; /* as soon as it is not on the wire */
    bool on_wire;
    bool served; /* receives: what it held was taken */
    locum_frame frame;
    uint64_t asked_at;
} flexcan_box;

typedef struct {
    unsigned number;
    bool able; /* to do CAN FD */
    int bus;   /* -1: none */
    uint32_t mcr;
    uint32_t ctrl1;
    uint32_t ctrl2;
    uint32_t cbt;
    uint32_t fdcbt;
    uint32_t fdctrl;
    uint32_t imask;
    uint32_t iflag;
    bool off_flag;
    uint32_t rximr[FLEXCAN_BOXES];
    uint32_t ram[FLEXCAN_RAM / 4u];
    flexcan_box boxes[FLEXCAN_BOXES];
    bool joined;
    bool recovers;
    unsigned transmit_errors; /* 256: bus-off */
    /* The workaround of erratum ERR005829: of the first mailbox, since a frame was asked for. */
    bool asked;
    unsigned inactive_writes;
    /* What it stands on. */
    bool clocked;
    bool wired;
    uint32_t clock_hz;
} flexcan;

void flexcan_reset(flexcan *can, unsigned number);
void flexcan_attach(flexcan *can, unsigned bus);
uint32_t flexcan_read(flexcan *can, uint32_t offset);
void flexcan_write(flexcan *can, uint32_t offset, uint32_t value);
bool flexcan_requests(const flexcan *can);
void flexcan_print_waiting(const flexcan *can);

#endif
