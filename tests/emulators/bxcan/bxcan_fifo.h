/* A receive FIFO of three mailboxes (RM0008, "Reception handling"). */
#ifndef BXCAN_FIFO_H
#define BXCAN_FIFO_H

#include "locum_core.h"

#define BXCAN_FIFO_DEPTH 3u

typedef struct {
    uint32_t rir;
    uint32_t rdtr;
    uint32_t rdlr;
    uint32_t rdhr;
} bxcan_received;

typedef struct {
    bxcan_received boxes[BXCAN_FIFO_DEPTH]; /* the oldest first */
    unsigned count;
    uint32_t flags;       /* FULL, FOVR */
    uint64_t released_at; /* when the release that was asked for is done; UINT64_MAX: none was */
    unsigned overruns;    /* frames that found it full */
} bxcan_fifo;

void bxcan_fifo_reset(bxcan_fifo *fifo);

/* A frame passed a filter. locked: when the FIFO is full the new one is lost, else the newest. */
void bxcan_fifo_put(bxcan_fifo *fifo, const bxcan_received *received, bool locked);

/* RF0R or RF1R. */
uint32_t bxcan_fifo_read_status(const bxcan_fifo *fifo);
void bxcan_fifo_write_status(bxcan_fifo *fifo, uint32_t value, uint64_t now);

/* RIR, RDTR, RDLR, RDHR, by their offset from the first. */
uint32_t bxcan_fifo_read(const bxcan_fifo *fifo, uint32_t offset);

/* Finishes a release. */
void bxcan_fifo_advance(bxcan_fifo *fifo, uint64_t now);

/* The request that the enable bits of IER for this FIFO (FMPIE in bit 0, FFIE, FOVIE) let out. */
bool bxcan_fifo_request(const bxcan_fifo *fifo, uint32_t enabled);

#endif
