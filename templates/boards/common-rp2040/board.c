/* Start, LED, watchdog, and the end of the road. */
#include "rp2040_parts.h"

#include "pins.h"

/* Counted down by two each microsecond (erratum RP2040-E1): 1 s. */
#define WATCHDOG_COUNT 2000000u

#define RESETS_USED (RESET_IO_BANK0 | RESET_PADS_BANK0 | RESET_SPI0)
#define RESET_LOOKS 100000u

#define BLINK_LOOPS 300000u /* about a fifth of a second at the internal 6 MHz */

#if LOCUM_GUARD_KEEP
/* Power and low voltage are one kind of reset here; what was kept tells by its checksum. The reset
 * pin leaves the memory alone. */
locum_reset_cause board_reset_cause(void)
{
    return (WATCHDOG_REASON & WATCHDOG_REASON_ANY) != 0u ? LOCUM_RESET_WATCHDOG
                                                         : LOCUM_RESET_BROWNOUT;
}
#endif

void led_light(bool lit)
{
    pins_led(lit);
}

void watchdog_feed(void)
{
    WATCHDOG_LOAD = WATCHDOG_COUNT;
}

static void watchdog_start(void)
{
    PSM_WDSEL = PSM_ALL_BUT_OSCILLATORS;
    watchdog_feed();
    WATCHDOG_CTRL = WATCHDOG_ENABLE | WATCHDOG_PAUSE_IN_DEBUGGER;
}

static void take_out_of_reset(uint32_t parts)
{
    CLEAR_BITS(RESETS_RESET) = parts;
    (void)board_wait(&RESETS_DONE, parts, parts, RESET_LOOKS);
}

void board_pause(uint32_t us)
{
    watchdog_feed();
    /* At least three cycles each, of 125 a microsecond. */
    for (uint32_t left = 42u * us; left != 0u; left--) {
        __asm volatile("" ::: "memory");
    }
}

void board_start(void)
{
    watchdog_start();
    take_out_of_reset(RESETS_USED);
    pins_start();
    led_light(true);
    if ((CLK_SYS_SELECTED & CLK_SELECTED(CLK_SYS_AUX)) == 0u) {
        board_stop(STOP_NO_CRYSTAL);
    }
    CLK_PERI_CTRL = CLK_PERI_ENABLE;
    can_start();
    take_out_of_reset(RESET_TIMER); /* it begins at 0 */
    timer_start();
}

uint32_t board_quiet(void)
{
    /* The controllers are left alone: frames that they have go out. The internal oscillator, so
     * that codes can be counted. */
    CLK_SYS_CTRL = 0;
    CLK_REF_CTRL = 0;
    return BLINK_LOOPS;
}
