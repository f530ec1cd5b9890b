/*
 * Reception through FIFO 0. FIFO 1 stays unused: two FIFOs would lose the order in which the
 * frames left the bus.
 */
#include "board_parts.h"

#if LOCUM_LISTENS

#include <string.h>

#if LOCUM_MAX_LENGTH < 8u
#error "A received classic frame may hold 8 bytes."
#endif

#define RELEASE_LOOKS 100u /* the answer takes a few bus clocks */
#define MAX_LENGTH 8u      /* data length codes up to 15 mean 8 bytes */

typedef struct {
    uint32_t fr1;
    uint32_t fr2;
} filter_bank;

#define BANK(fr1, fr2) {fr1, fr2},
static const filter_bank banks[] = {LOCUM_FILTERS(BANK)};

volatile uint32_t can_overruns;

void can_receive_start(void)
{
    CAN_FMR |= CAN_FMR_FINIT;
    CAN_FA1R = 0;
    CAN_FM1R = LOCUM_FILTER_FM1R;
    CAN_FS1R = LOCUM_FILTER_FS1R;
    CAN_FFA1R = 0; /* all banks feed FIFO 0 */
    for (uint32_t i = 0; i != sizeof banks / sizeof banks[0]; i++) {
        CAN_FR1(i) = banks[i].fr1;
        CAN_FR2(i) = banks[i].fr2;
    }
    CAN_FA1R = LOCUM_FILTER_FA1R;
    CAN_FMR &= ~CAN_FMR_FINIT;
}

/* Takes the oldest frame out of the FIFO. False: a remote frame, which tells nothing. */
static bool take(locum_frame *frame)
{
    const uint32_t rir = CAN_RI0R;
    const uint32_t code = CAN_RDT0R & CAN_RDTR_DLC;
    const uint32_t words[2] = {CAN_RDL0R, CAN_RDH0R};

    CAN_RF0R = CAN_RF0R_RFOM;
    *frame = (locum_frame){
        .id = (rir & CAN_RIR_IDE) != 0u ? (rir >> CAN_RIR_EXTENDED_SHIFT) | LOCUM_ID_EXTENDED
                                        : rir >> CAN_RIR_STANDARD_SHIFT,
        .length = (uint8_t)(code < MAX_LENGTH ? code : MAX_LENGTH),
    };
    memcpy(frame->data, words, sizeof words);
    return (rir & CAN_RIR_RTR) == 0u;
}

bool can_receive(locum_frame *frame)
{
    /* Until a release is done the FIFO still shows the frame that was taken. */
    while (board_wait(&CAN_RF0R, CAN_RF0R_RFOM, 0, RELEASE_LOOKS)) {
        const uint32_t status = CAN_RF0R;

        if ((status & CAN_RF0R_FOVR) != 0u) {
            CAN_RF0R = CAN_RF0R_FOVR;
            can_overruns++;
        }
        if ((status & CAN_RF0R_FMP) == 0u) {
            return false;
        }
        if (take(frame)) {
            return true;
        }
    }
    return false;
}

#endif
