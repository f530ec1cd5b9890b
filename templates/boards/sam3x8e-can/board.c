/* Start, LED, watchdog, and the end of the road. */
#include "board_parts.h"

#define PASTE(a, b) a##b
#define PORT_OF(letter) PASTE(PIO_, letter)
#define LED_PORT PORT_OF(BOARD_LED_PORT)
#define LED_MASK (1u << BOARD_LED_BIT)

/* 32768 Hz / 128 / 256: 1 s; 0.7 s to 1.5 s over the spread of the internal slow clock. */
#define WATCHDOG_TICKS 256u

#define BLINK_LOOPS 200000u /* about a fifth of a second at 4 MHz */

#if LOCUM_GUARD_KEEP
/* Power and low voltage are one kind of reset here; what was kept tells by its checksum. The reset
 * pin leaves the memory alone. */
locum_reset_cause board_reset_cause(void)
{
    return (RSTC_SR & RSTC_TYPE_MASK) == RSTC_TYPE_WATCHDOG ? LOCUM_RESET_WATCHDOG
                                                            : LOCUM_RESET_BROWNOUT;
}
#endif

static void led_start(void)
{
    led_light(true);
    PIO_OER(LED_PORT) = LED_MASK;
    PIO_PER(LED_PORT) = LED_MASK;
}

void led_light(bool lit)
{
    if (lit) {
        PIO_SODR(LED_PORT) = LED_MASK;
    } else {
        PIO_CODR(LED_PORT) = LED_MASK;
    }
}

void watchdog_feed(void)
{
    WDT_CR = WDT_FEED;
}

void board_start(void)
{
    WDT_MR = WDT_RESETS | WDT_VALUE(WATCHDOG_TICKS);
    PMC_PCER0 = 0xFu << ID_PIO_A; /* all ports */
#if LOCUM_OUTPUTS
    outputs_start();
#endif
    led_start();
    if (!clock_start()) {
        board_stop(STOP_NO_CRYSTAL);
    }
    timer_start();
    inputs_start();
    can_start();
}

uint32_t board_quiet(void)
{
    for (uint8_t bus = 0; bus < 2u; bus++) {
        CAN_MR(bus) = 0; /* without a clock that has no effect, and the pins are inputs */
    }
    /* The internal 4 MHz, so that codes can be counted. */
    PMC_MCKR = (PMC_MCKR & ~MCKR_CLOCK_MASK) | MCKR_MAIN;
    (void)board_wait(&PMC_SR, PMC_MASTER_READY, PMC_MASTER_READY, HANDSHAKE_LOOKS);
    CKGR_MOR = MOR_KEY | MOR_RC_ON;
    return BLINK_LOOPS;
}
