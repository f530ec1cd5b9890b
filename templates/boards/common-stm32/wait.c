#include "board_parts.h"

bool board_wait(volatile uint32_t *place, uint32_t mask, uint32_t value, uint32_t looks)
{
    while ((*place & mask) != value) {
        if (looks-- == 0u) {
            return false;
        }
    }
    return true;
}
