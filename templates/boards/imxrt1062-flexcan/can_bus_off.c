/*
 * Bus-off, for boards that count it. The controller stays off as long as BOFFREC is set; without
 * it, it comes back when it has seen 128 times 11 recessive bits.
 */
#include "board_parts.h"

#if LOCUM_GUARD_BUS_OFF

typedef struct {
    bool off;
    bool restarted;
} bus_state;

static bus_state states[BOARD_BUS_COUNT];

bool can_is_off(uint8_t bus)
{
    return states[bus].off;
}

void can_restart(uint8_t bus)
{
    FLEXCAN_CTRL1(buses[bus].controller) &= ~FLEXCAN_CTRL1_BOFFREC;
    states[bus].restarted = true;
}

static void watch(uint8_t bus)
{
    const uint32_t controller = buses[bus].controller;
    bus_state *const state = &states[bus];
    const uint32_t status = FLEXCAN_ESR1(controller);

    if (state->restarted &&
        ((status & FLEXCAN_ESR1_BOFFINT) != 0u || (status & FLEXCAN_ESR1_OFF) == 0u)) {
        /* Was back, even if not for long: then the flag tells, and the next look takes it. */
        FLEXCAN_CTRL1(controller) |= FLEXCAN_CTRL1_BOFFREC;
        *state = (bus_state){.off = false};
    } else if ((status & FLEXCAN_ESR1_BOFFINT) != 0u) {
        FLEXCAN_ESR1(controller) = FLEXCAN_ESR1_BOFFINT;
        state->off = true;
    }
}

void can_watch(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        watch(bus);
    }
}

/* While a controller comes back nothing tells that it has: it is looked at. */
#define LOOK_US 100u

uint32_t can_watch_until(uint32_t until_us)
{
    const uint32_t look_us = timer_now() + LOOK_US;

    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if (states[bus].restarted && (int32_t)(look_us - until_us) < 0) {
            until_us = look_us;
        }
    }
    return until_us;
}

#endif
