/* Bus-off, for boards that count it: the controller stays off until it is told otherwise. */
#include "board_parts.h"

#if LOCUM_GUARD_BUS_OFF

static bool off;
static bool restarted;

bool can_is_off(void)
{
    return off;
}

void can_restart(void)
{
    /* Through initialisation into normal mode, where the controller waits for 128 times 11
     * recessive bits before it takes part. */
    CAN_MCR = CAN_MCR_INRQ;
    (void)board_wait(&CAN_MSR, CAN_MSR_INAK, CAN_MSR_INAK, CAN_HANDSHAKE_LOOKS);
    CAN_MSR = CAN_MSR_ERRI;
    CAN_MCR = 0;
    restarted = true;
}

void can_watch(void)
{
    const bool went_off = (CAN_MSR & CAN_MSR_ERRI) != 0u;

    if (restarted && (went_off || (CAN_ESR & CAN_ESR_BOFF) == 0u)) {
        /* Was back, even if not for long: the flag stays up and the next look takes it. */
        restarted = false;
        off = false;
    } else if (went_off) {
        CAN_MSR = CAN_MSR_ERRI;
        off = true;
    }
}

#endif
