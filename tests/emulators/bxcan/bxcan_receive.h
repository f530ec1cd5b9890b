/* The receiving half of the controller: filters and two FIFOs. */
#ifndef BXCAN_RECEIVE_H
#define BXCAN_RECEIVE_H

#include "bxcan_fifo.h"
#include "bxcan_filters.h"

#define BXCAN_FIFOS 2u

typedef struct {
    bxcan_filters *filters; /* shared by a pair */
    unsigned index;         /* 1: the second controller, which has no registers of filters */
    bxcan_fifo fifos[BXCAN_FIFOS];
    unsigned heard; /* frames that passed a filter */
} bxcan_receiver;

void bxcan_receiver_reset(bxcan_receiver *receiver);

/* A data frame of another node ended. locked: MCR's RFLM. */
void bxcan_receiver_hear(bxcan_receiver *receiver, const locum_frame *frame, bool locked);

/* Of the four registers of both FIFOs. */
uint32_t bxcan_receiver_read(const bxcan_receiver *receiver, uint32_t offset);

void bxcan_receiver_advance(bxcan_receiver *receiver, uint64_t now);
uint64_t bxcan_receiver_next(const bxcan_receiver *receiver);

/* Frames that were lost because a FIFO was full. */
unsigned bxcan_receiver_overruns(const bxcan_receiver *receiver);

#endif
