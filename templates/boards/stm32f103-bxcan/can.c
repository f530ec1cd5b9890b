#include "board_parts.h"

#include <string.h>

#define MAILBOXES 3u

#if LOCUM_LISTENS
#define WAKES_FOR_FRAMES CAN_IER_FMPIE0
#else
#define WAKES_FOR_FRAMES 0u
#endif
#if LOCUM_GUARD_BUS_OFF
#define WAKES_FOR_ERRORS (CAN_IER_ERRIE | CAN_IER_BOFIE)
#define AFTER_BUS_OFF 0u /* stays off until can_restart */
#else
#define WAKES_FOR_ERRORS 0u
#define AFTER_BUS_OFF CAN_MCR_ABOM
#endif
#define IRQ_BITS (NVIC_BIT(IRQ_CAN_TX) | NVIC_BIT(IRQ_CAN_RX0) | NVIC_BIT(IRQ_CAN_SCE))

#if defined(LOCUM_CAN_PINS_PB8_PB9)
#define CAN_PORT GPIO_B
#define CAN_RX_BIT 8u
#define CAN_TX_BIT 9u
#define CAN_REMAP AFIO_MAPR_CAN_PB8_PB9
#elif defined(LOCUM_CAN_PINS_PA11_PA12)
#define CAN_PORT GPIO_A
#define CAN_RX_BIT 11u
#define CAN_TX_BIT 12u
#define CAN_REMAP 0u
#else
#error "The CAN pins are PA11/PA12 or PB8/PB9."
#endif

bool can_start(void)
{
    RCC_APB1ENR |= RCC_APB1_CAN;
    AFIO_MAPR = CAN_REMAP | AFIO_MAPR_SWD_ONLY;
    GPIO_BSRR(CAN_PORT) = 1u << CAN_RX_BIT; /* pulled up: recessive without a transceiver */
    pin_configure(CAN_PORT, CAN_RX_BIT, GPIO_INPUT_PULLED);
    pin_configure(CAN_PORT, CAN_TX_BIT, GPIO_ALTERNATE_OUTPUT);

    /* Out of sleep, into initialisation. Retransmission on, mailboxes by identifier. */
    CAN_MCR = CAN_MCR_INRQ | AFTER_BUS_OFF;
    if (!board_wait(&CAN_MSR, CAN_MSR_INAK | CAN_MSR_SLAK, CAN_MSR_INAK, CAN_HANDSHAKE_LOOKS)) {
        return false;
    }
    CAN_BTR = LOCUM_BUS0_BTR;
#if LOCUM_LISTENS
    can_receive_start();
#else
    CAN_FMR |= CAN_FMR_FINIT;
    CAN_FA1R = 0; /* no filter is active: nothing is received */
    CAN_FMR &= ~CAN_FMR_FINIT;
#endif
    NVIC_ISER(IRQ_CAN_TX) = IRQ_BITS;
    CAN_MCR = AFTER_BUS_OFF;
    return true;
}

bool can_is_on_bus(void)
{
    return (CAN_MSR & CAN_MSR_INAK) == 0u;
}

bool can_is_in_trouble(void)
{
    return (CAN_ESR & (CAN_ESR_EPVF | CAN_ESR_BOFF)) != 0u;
}

void can_wake(bool enable)
{
    CAN_IER = WAKES_FOR_FRAMES | WAKES_FOR_ERRORS | (enable ? CAN_IER_TMEIE : 0u);
    /* A frame that waits in the FIFO keeps its request up, as does an error, so clearing loses
     * none. */
    NVIC_ICPR(IRQ_CAN_TX) = IRQ_BITS;
}

static uint32_t identifier_bits(uint32_t id)
{
    if ((id & LOCUM_ID_EXTENDED) != 0u) {
        return ((id & ~LOCUM_ID_EXTENDED) << CAN_TIR_EXTENDED_SHIFT) | CAN_TIR_IDE;
    }
    return id << CAN_TIR_STANDARD_SHIFT;
}

bool can_send(const locum_frame *frame)
{
    const uint32_t id = identifier_bits(frame->id);
    uint32_t empty = MAILBOXES;
    uint32_t words[2] = {0, 0};
    uint32_t status;

    if (!can_is_on_bus()) {
        return false;
    }
    /* Cleared before the look: a mailbox that becomes empty after the look ends the next wait. */
    CAN_TSR = CAN_TSR_RQCP_ALL;
    status = CAN_TSR;
    for (uint32_t mailbox = MAILBOXES; mailbox-- > 0u;) {
        if ((status & CAN_TSR_TME(mailbox)) != 0u) {
            empty = mailbox;
        } else if ((CAN_TIR(mailbox) & ~CAN_TIR_TXRQ) == id) {
            return false;
        }
    }
    if (empty == MAILBOXES) {
        return false;
    }
    memcpy(words, frame->data, frame->length);
    CAN_TIR(empty) = id;
    CAN_TDTR(empty) = frame->length;
    CAN_TDLR(empty) = words[0];
    CAN_TDHR(empty) = words[1];
    CAN_TIR(empty) = id | CAN_TIR_TXRQ;
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool can_waits(uint32_t id)
{
    uint32_t status;

    /* As in can_send: what leaves after the look ends the next wait. */
    CAN_TSR = CAN_TSR_RQCP_ALL;
    status = CAN_TSR;
    for (uint32_t mailbox = 0; mailbox < MAILBOXES; mailbox++) {
        if ((status & CAN_TSR_TME(mailbox)) == 0u &&
            (CAN_TIR(mailbox) & ~CAN_TIR_TXRQ) == identifier_bits(id)) {
            return true;
        }
    }
    return false;
}
#endif

#if LOCUM_GUARDS
void can_withdraw(void)
{
    CAN_TSR = CAN_TSR_ABRQ_ALL; /* one on the wire goes on; empty mailboxes do not mind */
    CAN_TSR = CAN_TSR_RQCP_ALL; /* nobody waits for this room */
}
#endif
