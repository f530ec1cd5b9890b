/* Which device answers at an address, and whether its clock is on. */
#ifndef DEVICE_MAP_H
#define DEVICE_MAP_H

#include "board_model.h"

/* A device without clock reads as 0 and ignores writes. */
uint32_t device_map_read(board_model *board, uint32_t address);
void device_map_write(board_model *board, uint32_t address, uint32_t value);

#endif
