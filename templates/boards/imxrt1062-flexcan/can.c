/* The controllers' transmit mailboxes; the one that wins arbitration goes first. */
#include "board_parts.h"

#include <string.h>

#define SETTINGS(controller, fd, ctrl1, cbt, fdcbt, fdctrl)                                        \
    {controller, (fd) != 0, ctrl1, cbt, fdcbt, fdctrl},
const bus_settings buses[BOARD_BUS_COUNT] = {BOARD_BUSES(SETTINGS)};

static uint32_t sent_ids[BOARD_BUS_COUNT][SEND_BOXES]; /* with the marks of locum_frame.h */

#define PAD_TRANSMIT PAD_DRIVE
/* Recessive without a transceiver. */
#define PAD_RECEIVE (PAD_HYSTERESIS | PAD_KEEPER_OR_PULL | PAD_PULL | PAD_UP_47K)

/* AD_B1_08/09, AD_B0_02/03, AD_B0_14/15. */
static void connect(uint32_t controller)
{
    static const uint8_t transmit[] = {24, 2, 14};
    static const uint8_t functions[] = {2, 0, 8};

    pin_connect(0, transmit[controller], functions[controller], PAD_TRANSMIT);
    pin_connect(0, transmit[controller] + 1u, functions[controller], PAD_RECEIVE);
    if (controller == 0u) {
        IOMUX_CAN1_RX = 2u;
    } else if (controller == 1u) {
        IOMUX_CAN2_RX = 1u;
    } else {
        IOMUX_CAN3_RX = 1u;
    }
}

volatile uint32_t *can_box(uint8_t bus, uint32_t box)
{
    const uint32_t controller = buses[bus].controller;

    return &REGISTER(buses[bus].fd ? FLEXCAN_BOX_64(controller, box)
                                   : FLEXCAN_BOX(controller, box));
}

uint32_t can_errors(void)
{
#if LOCUM_GUARD_BUS_OFF
    return FLEXCAN_CTRL1_BOFFREC | FLEXCAN_CTRL1_BOFFMSK;
#else
    return 0;
#endif
}

static bool freeze(uint32_t controller)
{
    volatile uint32_t *const mcr = &FLEXCAN_MCR(controller);

    *mcr &= ~FLEXCAN_MCR_MDIS;
    if (!board_wait(mcr, FLEXCAN_MCR_LPMACK, 0, HANDSHAKE_LOOKS)) {
        return false;
    }
    *mcr |= FLEXCAN_MCR_SOFTRST;
    if (!board_wait(mcr, FLEXCAN_MCR_SOFTRST, 0, HANDSHAKE_LOOKS)) {
        return false;
    }
    *mcr |= FLEXCAN_MCR_FRZ | FLEXCAN_MCR_HALT;
    return board_wait(mcr, FLEXCAN_MCR_FRZACK, FLEXCAN_MCR_FRZACK, HANDSHAKE_LOOKS);
}

static bool start(uint8_t bus)
{
    const bus_settings *const own = &buses[bus];
    const uint32_t controller = own->controller;
    const uint32_t frozen = FLEXCAN_MCR_FRZ | FLEXCAN_MCR_HALT;
    uint32_t mode = FLEXCAN_MCR_SRXDIS | FLEXCAN_MCR_IRMQ | FLEXCAN_MCR_AEN | (BOXES - 1u);

    connect(controller);
    if (!freeze(controller)) {
        return false;
    }
    if (own->fd) {
        mode |= FLEXCAN_MCR_FDEN;
    }
    FLEXCAN_MCR(controller) = frozen | mode;
    FLEXCAN_CTRL1(controller) = own->ctrl1 | can_errors();
    if (own->fd) {
        FLEXCAN_CTRL2(controller) |= FLEXCAN_CTRL2_ISOCANFDEN;
        FLEXCAN_CBT(controller) = own->cbt;
        FLEXCAN_FDCBT(controller) = own->fdcbt;
        FLEXCAN_FDCTRL(controller) = own->fdctrl | FLEXCAN_FDCTRL_FDRATE | FLEXCAN_FDCTRL_64_BYTES;
    }
    for (uint32_t box = 0; box < BOXES; box++) {
        *can_box(bus, box) =
            box < FIRST_RECEIVE_BOX ? FLEXCAN_CS_TX_INACTIVE : FLEXCAN_CS_RX_INACTIVE;
    }
#if LOCUM_LISTENS
    can_receive_start(bus);
#endif
    FLEXCAN_IFLAG1(controller) = UINT32_MAX;
    FLEXCAN_IMASK1(controller) = CAN_RECEIVE_EVENTS;
    NVIC_ISER(IRQ_CAN(controller)) = NVIC_BIT(IRQ_CAN(controller));
    FLEXCAN_MCR(controller) = mode;
    return board_wait(&FLEXCAN_MCR(controller), FLEXCAN_MCR_FRZACK, 0, HANDSHAKE_LOOKS);
}

bool can_start(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if (!start(bus)) {
            return false;
        }
    }
    return true;
}

bool can_is_on_bus(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if ((FLEXCAN_ESR1(buses[bus].controller) & FLEXCAN_ESR1_SYNCH) == 0u) {
            return false;
        }
    }
    return true;
}

bool can_is_in_trouble(void)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        if ((FLEXCAN_ESR1(buses[bus].controller) & (FLEXCAN_ESR1_PASSIVE | FLEXCAN_ESR1_OFF)) !=
            0u) {
            return true;
        }
    }
    return false;
}

/* Waits or is on the wire; also one that is to be aborted, until it was. */
static bool is_full(uint8_t bus, uint32_t box)
{
    const uint32_t code = *can_box(bus, box) & FLEXCAN_CS_CODE_MASK;

    return code == FLEXCAN_CS_TX_DATA ||
           (code == FLEXCAN_CS_TX_ABORT &&
            (FLEXCAN_IFLAG1(buses[bus].controller) & (1u << box)) == 0u);
}

void can_wake(bool enable)
{
    for (uint8_t bus = 0; bus < BOARD_BUS_COUNT; bus++) {
        const uint32_t controller = buses[bus].controller;
        uint32_t full = 0;

        for (uint32_t i = 0; enable && i < SEND_BOXES; i++) {
            full |= is_full(bus, FIRST_SEND_BOX + i) ? 1u << (FIRST_SEND_BOX + i) : 0u;
        }
        FLEXCAN_IMASK1(controller) = CAN_RECEIVE_EVENTS | full;
        /* What still asks is pending again at once. */
        NVIC_ICPR(IRQ_CAN(controller)) = NVIC_BIT(IRQ_CAN(controller));
    }
}

/* The length must be one that a frame can have: 0 to 8, 12, 16, 20, 24, 32, 48 or 64. */
static uint32_t length_code(uint32_t length)
{
    if (length <= 8u) {
        return length;
    }
    return length <= 24u ? 9u + (length - 12u) / 4u : 11u + length / 16u;
}

static uint32_t control_word(const locum_frame *frame)
{
    uint32_t word = FLEXCAN_CS_TX_DATA | length_code(frame->length) << FLEXCAN_CS_DLC_SHIFT;

    if ((frame->id & LOCUM_ID_EXTENDED) != 0u) {
        word |= FLEXCAN_CS_IDE | FLEXCAN_CS_SRR;
    }
    if ((frame->id & LOCUM_ID_FD) != 0u) {
        word |= FLEXCAN_CS_EDL;
    }
    if ((frame->id & LOCUM_ID_SWITCH_RATE) != 0u) {
        word |= FLEXCAN_CS_BRS;
    }
    return word;
}

static bool waits(uint8_t bus, uint32_t id)
{
    for (uint32_t i = 0; i < SEND_BOXES; i++) {
        if (sent_ids[bus][i] == id && is_full(bus, FIRST_SEND_BOX + i)) {
            return true;
        }
    }
    return false;
}

bool can_send(const locum_frame *frame)
{
    const uint8_t bus = frame->bus;
    uint32_t i = 0;
    volatile uint32_t *word;

    if (waits(bus, frame->id)) {
        return false;
    }
    while (is_full(bus, FIRST_SEND_BOX + i)) {
        i++;
        if (i == SEND_BOXES) {
            return false;
        }
    }
    sent_ids[bus][i] = frame->id;
    FLEXCAN_IFLAG1(buses[bus].controller) = 1u << (FIRST_SEND_BOX + i);
    word = can_box(bus, FIRST_SEND_BOX + i);
    word[0] = FLEXCAN_CS_TX_INACTIVE;
    word[1] = (frame->id & LOCUM_ID_EXTENDED) != 0u
                  ? frame->id & FLEXCAN_ID_MASK
                  : (frame->id & FLEXCAN_ID_MASK) << FLEXCAN_ID_STANDARD_SHIFT;
    for (uint32_t at = 0; at < frame->length; at += 4u) {
        uint32_t bytes;

        memcpy(&bytes, &frame->data[at], sizeof bytes); /* there are whole words */
        word[2u + at / 4u] = __builtin_bswap32(bytes);
    }
    word[0] = control_word(frame);
    /* Erratum ERR005829: else it could wait for the next frame on the bus. */
    *can_box(bus, 0) = FLEXCAN_CS_TX_INACTIVE;
    *can_box(bus, 0) = FLEXCAN_CS_TX_INACTIVE;
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
    return waits(bus, id);
}
#endif

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
    for (uint32_t i = 0; i < SEND_BOXES; i++) {
        volatile uint32_t *const word = can_box(bus, FIRST_SEND_BOX + i);

        if ((*word & FLEXCAN_CS_CODE_MASK) == FLEXCAN_CS_TX_DATA) {
            /* One on the wire goes on. */
            *word = (*word & ~FLEXCAN_CS_CODE_MASK) | FLEXCAN_CS_TX_ABORT;
        }
    }
}
#endif
