/* Bus-off, for boards that count it: the controller stays off until it is told otherwise. */
#include "bxcan_registers.h"

#if LOCUM_GUARD_BUS_OFF

static bool off[LOCUM_BUSES];
static bool restarted[LOCUM_BUSES];

bool can_is_off(uint8_t bus)
{
    return off[bus];
}

void can_restart(uint8_t bus)
{
    /* Through initialisation into normal mode, where the controller waits for 128 times 11
     * recessive bits before it takes part. */
    BXCAN_MCR(bus) = BXCAN_MCR_INRQ;
    (void)board_wait(&BXCAN_MSR(bus), BXCAN_MSR_INAK, BXCAN_MSR_INAK, CAN_HANDSHAKE_LOOKS);
    BXCAN_MSR(bus) = BXCAN_MSR_ERRI;
    BXCAN_MCR(bus) = 0;
    restarted[bus] = true;
}

static void watch(uint8_t bus)
{
    const bool went_off = (BXCAN_MSR(bus) & BXCAN_MSR_ERRI) != 0u;

    if (restarted[bus] && (went_off || (BXCAN_ESR(bus) & BXCAN_ESR_BOFF) == 0u)) {
        /* Was back, even if not for long: the flag stays up and the next look takes it. */
        restarted[bus] = false;
        off[bus] = false;
    } else if (went_off) {
        BXCAN_MSR(bus) = BXCAN_MSR_ERRI;
        off[bus] = true;
    }
}

void can_watch(void)
{
    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        watch(bus);
    }
}

#else

void can_watch(void)
{
    /* The controllers come back by themselves. */
}

#endif
