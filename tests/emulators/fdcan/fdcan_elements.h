/* Frames as elements of the message RAM, and what the filters let in. */
#ifndef FDCAN_ELEMENTS_H
#define FDCAN_ELEMENTS_H

#include "fdcan_layout.h"

/* The frame of a transmit buffer as the controller would send it. */
locum_frame fdcan_buffer_frame(const fdcan *can, unsigned buffer);

typedef struct {
    bool taken;
    bool matched;
    unsigned filter; /* its place in its list */
} fdcan_verdict;

/* First filter that matches; without one GFC decides. */
fdcan_verdict fdcan_filter(const fdcan *can, uint32_t id);

/* Writes a received frame into an element of FIFO 0. */
void fdcan_store(fdcan *can, unsigned element, const locum_frame *frame, fdcan_verdict verdict);

#endif
