#include "fdcan_registers.h"

#include <string.h>

/* The queue has so many buffers; of those that wait, the one that wins arbitration goes first. */
#define MAILBOXES 3u

#if LOCUM_LISTENS
#define WAKES_FOR_FRAMES FDCAN_IR_RF0N
#else
#define WAKES_FOR_FRAMES 0u
#endif

typedef struct {
    can_pin receive;
    can_pin transmit;
    uint32_t nbtp;
    uint32_t dbtp;
    uint32_t tdcr;
    bool fd;
} controller;

#define CONTROLLER(pins, nbtp, dbtp, tdcr, fd) {pins, nbtp, dbtp, tdcr, fd},
static const controller controllers[LOCUM_BUSES] = {LOCUM_CONTROLLERS(CONTROLLER)};

static bool start(uint8_t bus)
{
    const controller *const own = &controllers[bus];

    pins_connect(&own->receive, &own->transmit);
    FDCAN_CCCR(bus) = FDCAN_CCCR_INIT;
    if (!board_wait(&FDCAN_CCCR(bus), FDCAN_CCCR_INIT, FDCAN_CCCR_INIT, CAN_HANDSHAKE_LOOKS)) {
        return false;
    }
    FDCAN_CCCR(bus) = FDCAN_CCCR_INIT | FDCAN_CCCR_CCE;
    if (own->fd) {
        FDCAN_CCCR(bus) = FDCAN_CCCR_INIT | FDCAN_CCCR_CCE | FDCAN_CCCR_FDOE | FDCAN_CCCR_BRSE;
        FDCAN_DBTP(bus) = own->dbtp;
        FDCAN_TDCR(bus) = own->tdcr;
    }
    FDCAN_NBTP(bus) = own->nbtp;
#if FDCAN_CONFIGURABLE
    FDCAN_TXESC(bus) = FDCAN_ESC_64_BYTES;
    FDCAN_TXBC(bus) = (FDCAN_RAM(bus) + FDCAN_RAM_TRANSMIT - FDCAN_RAM(0)) |
                      (MAILBOXES << FDCAN_TXBC_SIZE_SHIFT) | FDCAN_TXBC_QUEUE;
#else
    FDCAN_TXBC(bus) = FDCAN_TXBC_QUEUE;
#endif
#if LOCUM_LISTENS
    can_receive_start(bus);
#else
    FDCAN_GFC(bus) = FDCAN_GFC_REJECT; /* no filter: nothing is received */
#endif
    FDCAN_TXBTIE(bus) = (1u << MAILBOXES) - 1u;
    FDCAN_ILS(bus) = 0;
    FDCAN_ILE(bus) = FDCAN_ILE_LINE0;
    NVIC_ISER(FDCAN_IRQ(bus)) = NVIC_BIT(FDCAN_IRQ(bus));
    FDCAN_CCCR(bus) &= ~(FDCAN_CCCR_INIT | FDCAN_CCCR_CCE);
    return true;
}

bool can_start(void)
{
    CHIP_CLOCK_CONTROLLERS();
    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        if (!start(bus)) {
            return false;
        }
    }
    return true;
}

/* Frames that are asked for before the controller has found the bus idle wait in it. */
static bool is_ready(uint8_t bus)
{
    return (FDCAN_CCCR(bus) & FDCAN_CCCR_INIT) == 0u;
}

bool can_is_ready(void)
{
    bool ready = true;

    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        ready = ready && is_ready(bus);
    }
    return ready;
}

bool can_is_in_trouble(void)
{
    bool trouble = false;

    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        trouble = trouble || (FDCAN_PSR(bus) & (FDCAN_PSR_EP | FDCAN_PSR_BO)) != 0u;
    }
    return trouble;
}

void can_wake(bool enable)
{
    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        FDCAN_IE(bus) = WAKES_FOR_FRAMES | FDCAN_IR_BO | (enable ? FDCAN_IR_TC : 0u);
        /* What the controller still asks for is pending again, so clearing loses none. */
        NVIC_ICPR(FDCAN_IRQ(bus)) = NVIC_BIT(FDCAN_IRQ(bus));
    }
}

static volatile uint32_t *buffer(uint8_t bus, uint32_t mailbox)
{
    return &REGISTER(FDCAN_RAM(bus) + FDCAN_RAM_TRANSMIT + FDCAN_ELEMENT_BYTES * mailbox);
}

static uint32_t identifier_bits(uint32_t id)
{
    if ((id & LOCUM_ID_EXTENDED) != 0u) {
        return (id & FDCAN_E0_ID) | FDCAN_E0_EXTENDED;
    }
    return (id & FDCAN_E0_ID) << FDCAN_E0_STANDARD_SHIFT;
}

/* The length must be one that a frame can have: 0 to 8, 12, 16, 20, 24, 32, 48 or 64. */
static uint32_t length_code(uint32_t length)
{
    if (length <= 8u) {
        return length;
    }
    return length <= 24u ? 9u + (length - 12u) / 4u : 11u + length / 16u;
}

/* True while a frame with this identifier waits or is on the wire. */
static bool waits(uint8_t bus, uint32_t identifier)
{
    const uint32_t pending = FDCAN_TXBRP(bus);

    for (uint32_t mailbox = 0; mailbox < MAILBOXES; mailbox++) {
        if ((pending & (1u << mailbox)) != 0u && *buffer(bus, mailbox) == identifier) {
            return true;
        }
    }
    return false;
}

bool can_send(const locum_frame *frame)
{
    const uint8_t bus = frame->bus;
    const uint32_t identifier = identifier_bits(frame->id);
    uint32_t kind = length_code(frame->length) << FDCAN_E1_DLC_SHIFT;
    volatile uint32_t *word;
    uint32_t status;
    uint32_t put;

    /* Cleared before the look: a buffer that becomes empty after the look ends the next wait. */
    FDCAN_IR(bus) = FDCAN_IR_TC;
    status = FDCAN_TXFQS(bus);
    if (!is_ready(bus) || (status & FDCAN_TXFQS_FULL) != 0u || waits(bus, identifier)) {
        return false;
    }
    if ((frame->id & LOCUM_ID_FD) != 0u) {
        kind |= FDCAN_E1_FD;
    }
    if ((frame->id & LOCUM_ID_SWITCH_RATE) != 0u) {
        kind |= FDCAN_E1_SWITCH_RATE;
    }
    put = (status >> FDCAN_TXFQS_PUT_SHIFT) & FDCAN_TXFQS_PUT_MASK;
    word = buffer(bus, put);
    *word++ = identifier;
    *word++ = kind;
    for (uint32_t at = 0; at < frame->length; at += 4u) {
        uint32_t bytes;

        memcpy(&bytes, &frame->data[at], sizeof bytes); /* there are whole words */
        *word++ = bytes;
    }
    FDCAN_TXBAR(bus) = 1u << put;
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
    FDCAN_IR(bus) = FDCAN_IR_TC; /* as in can_send: what leaves after the look ends the next wait */
    return waits(bus, identifier_bits(id));
}
#endif

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
    FDCAN_TXBCR(bus) = FDCAN_TXBRP(bus); /* one on the wire goes on */
}
#endif
