/*
 * Acceptance filters: 14 banks of two registers of a controller that stands alone, 28 of a pair,
 * of which the second one has those from the start bank on (RM0008, "Identifier filtering"; layouts
 * and order of precedence from memory).
 */
#ifndef BXCAN_FILTERS_H
#define BXCAN_FILTERS_H

#include "locum_core.h"

#define BXCAN_FILTER_BANKS 28u
#define BXCAN_SINGLE_BANKS 14u

typedef struct {
    unsigned count; /* banks; stays over a reset */
    uint32_t fmr;
    uint32_t fm1r;  /* bank's bit: identifier list, else mask */
    uint32_t fs1r;  /* one 32-bit scale, else two of 16 bits */
    uint32_t ffa1r; /* feeds FIFO 1 */
    uint32_t fa1r;  /* active */
    uint32_t banks[BXCAN_FILTER_BANKS][2];
} bxcan_filters;

void bxcan_filters_reset(bxcan_filters *filters);

/* Offsets of the controller. */
uint32_t bxcan_filters_read(const bxcan_filters *filters, uint32_t offset);
void bxcan_filters_write(bxcan_filters *filters, uint32_t offset, uint32_t value);

/* Whether a data frame passes to a controller, 0 or 1, into which FIFO, and by which of the FIFO's
 * filters. */
bool bxcan_filters_pass(const bxcan_filters *filters, unsigned controller, uint32_t id,
                        unsigned *fifo, unsigned *match);

#endif
