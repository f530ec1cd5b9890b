/*
 * Reception through FIFO 0 of each controller. FIFO 1 stays unused: two FIFOs would lose the order
 * in which the frames left the bus.
 */
#include "bxcan_registers.h"

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

/* Of all controllers, one after the other. */
#define BANK(fr1, fr2) {fr1, fr2},
static const filter_bank banks[] = {LOCUM_FILTERS(BANK)};

typedef struct {
    uint32_t count; /* banks */
    uint32_t list;  /* a bit per bank: identifiers, not identifier and mask */
    uint32_t wide;  /* 32 bits */
} filter_set;

#define SET(count, list, wide) {count, list, wide},
static const filter_set sets[LOCUM_BUSES] = {LOCUM_FILTER_SETS(SET)};

/* Banks of each controller of a pair. */
#define OWN_BANKS 14u

volatile uint32_t can_overruns;

void can_receive_start(uint8_t bus)
{
    const uint32_t first = OWN_BANKS * bus;
    const uint32_t count = sets[bus].count;
    const filter_bank *bank = banks;

    for (uint8_t i = 0; i < bus; i++) {
        bank += sets[i].count;
    }
    BXCAN_FMR = BXCAN_FMR_FINIT | (OWN_BANKS << BXCAN_FMR_SECOND_SHIFT);
    BXCAN_FM1R |= sets[bus].list << first;
    BXCAN_FS1R |= sets[bus].wide << first;
    BXCAN_FFA1R = 0; /* all banks feed FIFO 0 */
    for (uint32_t i = first; i != first + count; i++, bank++) {
        BXCAN_FR1(i) = bank->fr1;
        BXCAN_FR2(i) = bank->fr2;
    }
    BXCAN_FA1R |= ((1u << count) - 1u) << first;
    BXCAN_FMR &= ~BXCAN_FMR_FINIT;
}

/* Takes the oldest frame out of the FIFO. False: a remote frame, which tells nothing. */
static bool take(uint8_t bus, locum_frame *frame)
{
    const uint32_t rir = BXCAN_RI0R(bus);
    const uint32_t code = BXCAN_RDT0R(bus) & BXCAN_RDTR_DLC;
    const uint32_t words[2] = {BXCAN_RDL0R(bus), BXCAN_RDH0R(bus)};

    BXCAN_RF0R(bus) = BXCAN_RF0R_RFOM;
    *frame = (locum_frame){
        .id = (rir & BXCAN_RIR_IDE) != 0u ? (rir >> BXCAN_RIR_EXTENDED_SHIFT) | LOCUM_ID_EXTENDED
                                          : rir >> BXCAN_RIR_STANDARD_SHIFT,
        .bus = bus,
        .length = (uint8_t)(code < MAX_LENGTH ? code : MAX_LENGTH),
    };
    memcpy(frame->data, words, sizeof words);
    return (rir & BXCAN_RIR_RTR) == 0u;
}

static bool receive(uint8_t bus, locum_frame *frame)
{
    /* Until a release is done the FIFO still shows the frame that was taken. */
    while (board_wait(&BXCAN_RF0R(bus), BXCAN_RF0R_RFOM, 0, RELEASE_LOOKS)) {
        const uint32_t status = BXCAN_RF0R(bus);

        if ((status & BXCAN_RF0R_FOVR) != 0u) {
            BXCAN_RF0R(bus) = BXCAN_RF0R_FOVR;
            can_overruns++;
        }
        if ((status & BXCAN_RF0R_FMP) == 0u) {
            return false;
        }
        if (take(bus, frame)) {
            return true;
        }
    }
    return false;
}

bool can_receive(locum_frame *frame)
{
    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        if (receive(bus, frame)) {
            return true;
        }
    }
    return false;
}

#endif
