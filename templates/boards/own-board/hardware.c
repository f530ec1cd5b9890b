/* Yours to fill in: hardware.h says what each function has to do, README.md has a checklist. */
#include "hardware.h"

void hardware_start(void)
{
}

uint32_t hardware_now_us(void)
{
    return 0;
}

void hardware_sleep(uint32_t us)
{
    (void)us;
}

void hardware_feed_watchdog(void)
{
}

locum_input_set hardware_inputs(void)
{
    return 0;
}

#if LOCUM_OUTPUTS
void hardware_outputs(locum_output_set levels)
{
    (void)levels;
}
#endif

void hardware_led(bool lit)
{
    (void)lit;
}

void hardware_can_start(uint8_t bus, const hardware_bus *settings)
{
    (void)bus;
    (void)settings;
}

bool hardware_can_give(const locum_frame *frame)
{
    (void)frame;
    return false;
}

bool hardware_can_has_sent(uint8_t bus)
{
    (void)bus;
    return false;
}

bool hardware_can_take(uint8_t bus, locum_frame *frame)
{
    (void)bus;
    (void)frame;
    return false;
}

bool hardware_can_abort(uint8_t bus)
{
    (void)bus;
    return false;
}

bool hardware_can_is_off(uint8_t bus)
{
    (void)bus;
    return false;
}

void hardware_can_restart(uint8_t bus)
{
    (void)bus;
}

#if LOCUM_GUARD_KEEP
locum_reset_cause hardware_reset_cause(void)
{
    return LOCUM_RESET_BROWNOUT;
}
#endif
