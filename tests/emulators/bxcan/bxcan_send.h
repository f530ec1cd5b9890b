/* Between the registers and the bus: mailboxes and modes. Used by the controller alone. */
#ifndef BXCAN_SEND_H
#define BXCAN_SEND_H

#include "bxcan.h"

bool bxcan_is_empty(const bxcan_mailbox *box);

/* The waiting mailbox that goes last; 0 if none waits. */
unsigned bxcan_lowest(const bxcan *can);

void bxcan_request(bxcan *can, unsigned index, uint64_t now);
void bxcan_abort(bxcan *can, unsigned index);

/* MCR asks for another mode. */
void bxcan_ask_mode(bxcan *can, uint64_t now);

#endif
