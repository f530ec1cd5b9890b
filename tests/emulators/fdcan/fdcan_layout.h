/* Where a controller's lists lie in the message RAM, in words. */
#ifndef FDCAN_LAYOUT_H
#define FDCAN_LAYOUT_H

#include "fdcan.h"

typedef struct {
    uint32_t start;
    uint32_t count;         /* elements */
    uint32_t element_words; /* of each */
} fdcan_list;

fdcan_list fdcan_standard_list(const fdcan *can);
fdcan_list fdcan_extended_list(const fdcan *can);
fdcan_list fdcan_fifo0(const fdcan *can);
fdcan_list fdcan_transmit_list(const fdcan *can);

/* Queue: by identifier. Otherwise FIFO. */
bool fdcan_is_queue(const fdcan *can);

/* Reports lists that overlap or leave the message RAM, and bit timings the controller cannot hold.
 */
bool fdcan_check_settings(const fdcan *can);

#endif
