/* The two kinds of controllers as the board sees them. */
#ifndef CAN_OPERATIONS_H
#define CAN_OPERATIONS_H

#include "board_model.h"

extern const can_operations can_operations_bxcan;
extern const can_operations can_operations_fdcan;

#endif
