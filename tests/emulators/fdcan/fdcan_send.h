/* Between the registers and the bus: requests, cancellation, modes. Used by the controller alone.
 */
#ifndef FDCAN_SEND_H
#define FDCAN_SEND_H

#include "fdcan_elements.h"

/* Empty buffer that the next frame goes into; the number of buffers if none is empty. */
unsigned fdcan_put_index(const fdcan *can);

void fdcan_request(fdcan *can, unsigned buffer, uint64_t now);
void fdcan_cancel(fdcan *can, unsigned buffer);

/* INIT was written. */
void fdcan_ask_mode(fdcan *can, uint64_t now);

#endif
