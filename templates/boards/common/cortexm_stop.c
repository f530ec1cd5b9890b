/* The end of the road: blinks a code, then lets the watchdog reset the board. */
#include "cortexm_board.h"

#define BLINK_ROUNDS 4u

static void blink(bool lit, uint32_t loops)
{
    led_light(lit);
    watchdog_feed();
    for (uint32_t i = 0; i < loops; i++) {
        __asm volatile("" ::: "memory");
    }
}

void board_stop(uint32_t code)
{
    const uint32_t loops = board_quiet();

    for (uint32_t round = 0; code == STOP_FAULT || round < BLINK_ROUNDS; round++) {
        for (uint32_t i = 0; i < code; i++) {
            blink(true, loops);
            blink(false, loops);
        }
        for (uint32_t pause = 0; pause < 4u; pause++) {
            blink(false, loops);
        }
    }
    for (;;) {
        /* The watchdog resets the board, which then tries again. */
    }
}
