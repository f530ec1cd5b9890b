/* LED, watchdog, and the end of the road. */
#include "board_parts.h"

#define PASTE(a, b) a##b
#define PORT_OF(letter) PASTE(GPIO_, letter)
#define LED_PORT PORT_OF(LOCUM_LED_PORT)

/* 32 kHz / 32 / 1000: 1 s; 0.7 s to 1.9 s over the widest spread of the internal oscillator. */
#define WATCHDOG_RELOAD 999u

#define BLINK_LOOPS (CHIP_INTERNAL_MHZ * 50000u) /* about a fifth of a second */
#define BLINK_ROUNDS 4u

void led_start(void)
{
    led_light(false);
    pin_configure(LED_PORT, LOCUM_LED_BIT, GPIO_OUTPUT, GPIO_PULL_NONE);
}

void led_light(bool lit)
{
    /* The LED lies between supply and pin. */
    GPIO_BSRR(LED_PORT) = 1u << (lit ? LOCUM_LED_BIT + 16u : LOCUM_LED_BIT);
}

void watchdog_start(void)
{
    IWDG_KR = IWDG_KEY_START;
    IWDG_KR = IWDG_KEY_UNLOCK;
    IWDG_PR = IWDG_PR_DIV32;
    IWDG_RLR = WATCHDOG_RELOAD;
}

void watchdog_feed(void)
{
    IWDG_KR = IWDG_KEY_FEED;
}

static void blink(bool lit)
{
    led_light(lit);
    watchdog_feed();
    for (uint32_t i = 0; i < BLINK_LOOPS; i++) {
        __asm volatile("" ::: "memory");
    }
}

void board_stop(uint32_t code)
{
    CHIP_HOLD_CONTROLLERS(); /* in reset they are recessive */
    CHIP_CLOCK_INTERNAL();   /* so that codes can be counted */

    for (uint32_t round = 0; code == STOP_FAULT || round < BLINK_ROUNDS; round++) {
        for (uint32_t i = 0; i < code; i++) {
            blink(true);
            blink(false);
        }
        for (uint32_t pause = 0; pause < 4u; pause++) {
            blink(false);
        }
    }
    for (;;) {
        /* The watchdog resets the board, which then tries again. */
    }
}
