/* Start, watchdog, and the end of the road. */
#include "board_parts.h"

#define WATCHDOG_HALF_SECONDS 2u

#define BLINK_LOOPS 1000000u /* about a fifth of a second at 24 MHz */

#if LOCUM_GUARD_KEEP
static uint32_t reset_flags;

/* Power and low voltage are one kind of reset here; what was kept tells by its checksum. */
locum_reset_cause board_reset_cause(void)
{
    return (reset_flags & SRC_BY_WATCHDOG) != 0u ? LOCUM_RESET_WATCHDOG : LOCUM_RESET_BROWNOUT;
}
#endif

void watchdog_feed(void)
{
    WDOG_WSR = WDOG_FEED_1;
    WDOG_WSR = WDOG_FEED_2;
}

static void watchdog_start(void)
{
    WDOG_WMCR = 0; /* its other counter, of 16 s, is on after a reset */
    WDOG_WCR = (uint16_t)(WDOG_WCR_HALVES(WATCHDOG_HALF_SECONDS) | WDOG_WCR_NO_SOFTWARE_RESET |
                          WDOG_WCR_ENABLE);
}

void board_start(void)
{
    const bool clocked = clock_start();

    watchdog_start();
#if LOCUM_GUARD_KEEP
    reset_flags = SRC_SRSR;
#endif
    SRC_SRSR = UINT32_MAX;
    pins_start();
    if (!clocked) {
        board_stop(STOP_NO_CRYSTAL);
    }
    timer_start();
    if (!can_start()) {
        board_stop(STOP_NO_CONTROLLER);
    }
}

uint32_t board_quiet(void)
{
    for (uint32_t controller = 0; controller < 3u; controller++) {
        FLEXCAN_MCR(controller) = FLEXCAN_MCR_MDIS;
    }
    /* The crystal, so that codes can be counted. */
    CCM_CBCDR |= CBCDR_PERIPH_CLK2;
    return BLINK_LOOPS;
}
