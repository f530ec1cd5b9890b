#include "bxcan_registers.h"

#include <string.h>

#define MAILBOXES 3u

#if LOCUM_LISTENS
#define WAKES_FOR_FRAMES BXCAN_IER_FMPIE0
#else
#define WAKES_FOR_FRAMES 0u
#endif
#if LOCUM_GUARD_BUS_OFF
#define WAKES_FOR_ERRORS (BXCAN_IER_ERRIE | BXCAN_IER_BOFIE)
#define AFTER_BUS_OFF 0u /* stays off until can_restart */
#else
#define WAKES_FOR_ERRORS 0u
#define AFTER_BUS_OFF BXCAN_MCR_ABOM
#endif

typedef struct {
    can_pin receive;
    can_pin transmit;
    uint32_t btr;
} controller;

#define CONTROLLER(pins, btr) {pins, btr},
static const controller controllers[LOCUM_BUSES] = {LOCUM_CONTROLLERS(CONTROLLER)};

static void enable_irq(uint32_t irq)
{
    NVIC_ISER(irq) = NVIC_BIT(irq);
}

static void clear_irq(uint32_t irq)
{
    NVIC_ICPR(irq) = NVIC_BIT(irq);
}

static bool start(uint8_t bus)
{
    pins_connect(&controllers[bus].receive, &controllers[bus].transmit);
    /* Out of sleep, into initialisation. Retransmission on, mailboxes by identifier. */
    BXCAN_MCR(bus) = BXCAN_MCR_INRQ | AFTER_BUS_OFF;
    if (!board_wait(&BXCAN_MSR(bus), BXCAN_MSR_INAK | BXCAN_MSR_SLAK, BXCAN_MSR_INAK,
                    CAN_HANDSHAKE_LOOKS)) {
        return false;
    }
    BXCAN_BTR(bus) = controllers[bus].btr;
#if LOCUM_LISTENS
    can_receive_start(bus);
#endif
    enable_irq(BXCAN_IRQ_TX(bus));
    enable_irq(BXCAN_IRQ_RX0(bus));
    enable_irq(BXCAN_IRQ_SCE(bus));
    BXCAN_MCR(bus) = AFTER_BUS_OFF;
    return true;
}

bool can_start(void)
{
    CHIP_CLOCK_CONTROLLERS();
    BXCAN_FA1R = 0; /* no filter is active: nothing is received */
    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        if (!start(bus)) {
            return false;
        }
    }
    return true;
}

static bool is_ready(uint8_t bus)
{
    return (BXCAN_MSR(bus) & BXCAN_MSR_INAK) == 0u;
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
        trouble = trouble || (BXCAN_ESR(bus) & (BXCAN_ESR_EPVF | BXCAN_ESR_BOFF)) != 0u;
    }
    return trouble;
}

void can_wake(bool enable)
{
    for (uint8_t bus = 0; bus < LOCUM_BUSES; bus++) {
        BXCAN_IER(bus) = WAKES_FOR_FRAMES | WAKES_FOR_ERRORS | (enable ? BXCAN_IER_TMEIE : 0u);
        /* A frame that waits in the FIFO keeps its request up, as does an error, so clearing loses
         * none. */
        clear_irq(BXCAN_IRQ_TX(bus));
        clear_irq(BXCAN_IRQ_RX0(bus));
        clear_irq(BXCAN_IRQ_SCE(bus));
    }
}

static uint32_t identifier_bits(uint32_t id)
{
    if ((id & LOCUM_ID_EXTENDED) != 0u) {
        return ((id & ~LOCUM_ID_EXTENDED) << BXCAN_TIR_EXTENDED_SHIFT) | BXCAN_TIR_IDE;
    }
    return id << BXCAN_TIR_STANDARD_SHIFT;
}

bool can_send(const locum_frame *frame)
{
    const uint8_t bus = frame->bus;
    const uint32_t id = identifier_bits(frame->id);
    uint32_t empty = MAILBOXES;
    uint32_t words[2] = {0, 0};
    uint32_t status;

    if (!is_ready(bus)) {
        return false;
    }
    /* Cleared before the look: a mailbox that becomes empty after the look ends the next wait. */
    BXCAN_TSR(bus) = BXCAN_TSR_RQCP_ALL;
    status = BXCAN_TSR(bus);
    for (uint32_t mailbox = MAILBOXES; mailbox-- > 0u;) {
        if ((status & BXCAN_TSR_TME(mailbox)) != 0u) {
            empty = mailbox;
        } else if ((BXCAN_TIR(bus, mailbox) & ~BXCAN_TIR_TXRQ) == id) {
            return false;
        }
    }
    if (empty == MAILBOXES) {
        return false;
    }
    memcpy(words, frame->data, frame->length);
    BXCAN_TIR(bus, empty) = id;
    BXCAN_TDTR(bus, empty) = frame->length;
    BXCAN_TDLR(bus, empty) = words[0];
    BXCAN_TDHR(bus, empty) = words[1];
    BXCAN_TIR(bus, empty) = id | BXCAN_TIR_TXRQ;
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id)
{
    uint32_t status;

    /* As in can_send: what leaves after the look ends the next wait. */
    BXCAN_TSR(bus) = BXCAN_TSR_RQCP_ALL;
    status = BXCAN_TSR(bus);
    for (uint32_t mailbox = 0; mailbox < MAILBOXES; mailbox++) {
        if ((status & BXCAN_TSR_TME(mailbox)) == 0u &&
            (BXCAN_TIR(bus, mailbox) & ~BXCAN_TIR_TXRQ) == identifier_bits(id)) {
            return true;
        }
    }
    return false;
}
#endif

#if LOCUM_GUARDS
void can_withdraw(uint8_t bus)
{
    BXCAN_TSR(bus) = BXCAN_TSR_ABRQ_ALL; /* one on the wire goes on; empty mailboxes do not mind */
    BXCAN_TSR(bus) = BXCAN_TSR_RQCP_ALL; /* nobody waits for this room */
}
#endif
