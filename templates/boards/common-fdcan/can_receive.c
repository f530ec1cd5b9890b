/*
 * Reception through FIFO 0 of each controller. FIFO 1 stays unused: two FIFOs would lose the order
 * in which the frames left the bus.
 */
#include "fdcan_registers.h"

#if LOCUM_LISTENS

#include <string.h>

#if LOCUM_MAX_LENGTH < 8u
#error "A received classic frame may hold 8 bytes."
#endif

typedef struct {
    uint32_t f0;
    uint32_t f1;
} extended_filter;

/* Elements of all controllers, one after the other. */
#define STANDARD(word) word,
#define EXTENDED(f0, f1) {f0, f1},
static const uint32_t standard_filters[] = {LOCUM_STANDARD_FILTERS(STANDARD) 0};
static const extended_filter extended_filters[] = {LOCUM_EXTENDED_FILTERS(EXTENDED){0, 0}};

/* How many of them each has. */
#define COUNTS(standard, extended) {standard, extended},
static const uint8_t counts[LOCUM_BUSES][2] = {LOCUM_FILTER_COUNTS(COUNTS)};

static const uint8_t lengths[16] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64};

volatile uint32_t can_overruns;

void can_receive_start(uint8_t bus)
{
    const uint32_t standard = counts[bus][0];
    const uint32_t extended = counts[bus][1];
    volatile uint32_t *word = &REGISTER(FDCAN_RAM(bus) + FDCAN_RAM_STANDARD);
    uint32_t first_standard = 0;
    uint32_t first_extended = 0;

    for (uint8_t i = 0; i < bus; i++) {
        first_standard += counts[i][0];
        first_extended += counts[i][1];
    }
    for (uint32_t i = 0; i < standard; i++) {
        *word++ = standard_filters[first_standard + i];
    }
    word = &REGISTER(FDCAN_RAM(bus) + FDCAN_RAM_EXTENDED);
    for (uint32_t i = 0; i < extended; i++) {
        *word++ = extended_filters[first_extended + i].f0;
        *word++ = extended_filters[first_extended + i].f1;
    }
#if FDCAN_CONFIGURABLE
    FDCAN_SIDFC(bus) =
        (FDCAN_RAM(bus) + FDCAN_RAM_STANDARD - FDCAN_RAM(0)) | (standard << FDCAN_LIST_SIZE_SHIFT);
    FDCAN_XIDFC(bus) =
        (FDCAN_RAM(bus) + FDCAN_RAM_EXTENDED - FDCAN_RAM(0)) | (extended << FDCAN_LIST_SIZE_SHIFT);
    FDCAN_RXF0C(bus) = (FDCAN_RAM(bus) + FDCAN_RAM_FIFO0 - FDCAN_RAM(0)) |
                       (FDCAN_FIFO_DEPTH << FDCAN_LIST_SIZE_SHIFT);
    FDCAN_RXESC(bus) = FDCAN_ESC_64_BYTES;
    FDCAN_GFC(bus) = FDCAN_GFC_REJECT;
#else
    FDCAN_GFC(bus) =
        FDCAN_GFC_REJECT | (standard << FDCAN_GFC_LSS_SHIFT) | (extended << FDCAN_GFC_LSE_SHIFT);
#endif
}

static uint32_t shorter(uint32_t a, uint32_t b)
{
    return a < b ? a : b;
}

/* Takes the oldest frame out of a FIFO that is not empty. */
static void take(uint8_t bus, uint32_t get, locum_frame *frame)
{
    const volatile uint32_t *const element =
        &REGISTER(FDCAN_RAM(bus) + FDCAN_RAM_FIFO0 + FDCAN_ELEMENT_BYTES * get);
    const uint32_t e0 = element[0];
    const uint32_t e1 = element[1];
    /* Classic frames have up to 8 bytes whatever their code says. */
    const uint32_t most = (e1 & FDCAN_E1_FD) != 0u ? LOCUM_MAX_LENGTH : 8u;
    const uint32_t length = shorter(lengths[(e1 >> FDCAN_E1_DLC_SHIFT) & FDCAN_E1_DLC_MASK], most);

    *frame = (locum_frame){
        .id = (e0 & FDCAN_E0_EXTENDED) != 0u ? (e0 & FDCAN_E0_ID) | LOCUM_ID_EXTENDED
                                             : (e0 & FDCAN_E0_ID) >> FDCAN_E0_STANDARD_SHIFT,
        .bus = bus,
        .length = (uint8_t)length,
    };
    for (uint32_t at = 0; at < length; at += 4u) {
        const uint32_t bytes = element[2u + at / 4u];

        memcpy(&frame->data[at], &bytes, shorter(length - at, sizeof bytes));
    }
    FDCAN_RXF0A(bus) = get;
}

static bool receive(uint8_t bus, locum_frame *frame)
{
    uint32_t status;

    /* Cleared before the look: a frame that comes after the look ends the next wait. */
    if ((FDCAN_IR(bus) & FDCAN_IR_RF0L) != 0u) {
        can_overruns++;
    }
    FDCAN_IR(bus) = FDCAN_IR_RF0N | FDCAN_IR_RF0L;
    status = FDCAN_RXF0S(bus);
    if ((status & FDCAN_RXF0S_FILL) == 0u) {
        return false;
    }
    take(bus, (status >> FDCAN_RXF0S_GET_SHIFT) & FDCAN_RXF0S_GET_MASK, frame);
    return true;
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
