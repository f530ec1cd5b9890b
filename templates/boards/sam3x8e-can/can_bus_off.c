/*
 * Bus-off, for boards that count it. A controller would come back by itself, so it is switched off
 * until it is told otherwise. That clears its error counters, and with them its own count of
 * recessive bits: the time of 128 times 11 bits passes while it is off instead.
 */
#include "board_parts.h"

#if LOCUM_GUARD_BUS_OFF

typedef struct {
    bool off;
    bool coming;
    uint32_t joins_us; /* while coming */
} bus_state;

static const uint32_t recovery_us[] = {BOARD_RECOVERY_US};
static bus_state states[BOARD_BUS_COUNT];

bool can_is_off(uint8_t bus)
{
    return states[bus].off;
}

void can_restart(uint8_t bus)
{
    can_configure(bus);
    states[bus].coming = true;
    states[bus].joins_us = timer_now() + recovery_us[bus];
}

void can_watch(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        bus_state *const state = &states[bus];

        if (state->coming) {
            if ((int32_t)(timer_now() - state->joins_us) >= 0) {
                can_join(bus);
                *state = (bus_state){.off = false};
            }
        } else if (!state->off && (CAN_SR(bus) & CAN_SR_OFF) != 0u) {
            CAN_IDR(bus) = CAN_SR_OFF; /* until can_configure */
            can_leave(bus);
            state->off = true;
        }
    }
}

uint32_t can_watch_until(uint32_t until_us)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if (states[bus].coming && (int32_t)(states[bus].joins_us - until_us) < 0) {
            until_us = states[bus].joins_us;
        }
    }
    return until_us;
}

#endif
