/*
 * Bus-off. The controller goes into initialisation by itself; taken out of it, it waits for 128
 * times 11 recessive bits before it takes part.
 */
#include "fdcan_registers.h"

static void take_out_of_initialisation(uint8_t bus)
{
    FDCAN_CCCR(bus) &= ~FDCAN_CCCR_INIT;
}

#if LOCUM_GUARD_BUS_OFF

static bool off[LOCUM_BUSES];
static bool restarted[LOCUM_BUSES];

bool can_is_off(uint8_t bus)
{
    return off[bus];
}

void can_restart(uint8_t bus)
{
    FDCAN_IR(bus) = FDCAN_IR_BO;
    take_out_of_initialisation(bus);
    restarted[bus] = true;
}

static void watch(uint8_t bus)
{
    const bool went_off = (FDCAN_CCCR(bus) & FDCAN_CCCR_INIT) != 0u;

    if (restarted[bus] && (went_off || (FDCAN_PSR(bus) & FDCAN_PSR_BO) == 0u)) {
        /* Was back, even if not for long: then the flag stays up and the next look takes it. */
        restarted[bus] = false;
        off[bus] = false;
    } else if (went_off) {
        FDCAN_IR(bus) = FDCAN_IR_BO;
        off[bus] = true;
    }
    if (!went_off) {
        FDCAN_IR(bus) = FDCAN_IR_BO; /* the way back raises it as well */
    }
}

#else

static void watch(uint8_t bus)
{
    FDCAN_IR(bus) = FDCAN_IR_BO;
    if ((FDCAN_CCCR(bus) & FDCAN_CCCR_INIT) != 0u) {
        take_out_of_initialisation(bus);
    }
}

#endif

void can_watch(void)
{
    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        watch(bus);
    }
}
