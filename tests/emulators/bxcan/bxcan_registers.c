/* The controller as the program sees it. */
#include "bxcan.h"
#include "bxcan_map.h"
#include "bxcan_send.h"
#include "report.h"

static uint32_t mode_status(const bxcan *can)
{
    const bool initial = can->mode == BXCAN_INITIAL || can->mode == BXCAN_JOINING;

    return MSR_RECESSIVE | (initial ? MSR_INAK : 0u) | (can->mode == BXCAN_ASLEEP ? MSR_SLAK : 0u) |
           (can->error_flag ? MSR_ERRI : 0u);
}

static uint32_t transmit_status(const bxcan *can)
{
    uint32_t status = can->tsr;
    unsigned waiting = 0;
    unsigned empty = BXCAN_MAILBOXES;
    const unsigned lowest = bxcan_lowest(can);

    for (unsigned i = BXCAN_MAILBOXES; i-- > 0u;) {
        if (bxcan_is_empty(&can->mailboxes[i])) {
            status |= 1u << (TSR_TME_SHIFT + i);
            empty = i;
        } else {
            waiting++;
        }
    }
    if (waiting > 1u) {
        status |= 1u << (TSR_LOW_SHIFT + lowest);
    }
    return status | ((empty != BXCAN_MAILBOXES ? empty : lowest) << TSR_CODE_SHIFT);
}

static uint32_t error_status(const bxcan *can)
{
    const uint32_t errors = can->transmit_errors;

    return ((errors & 0xFFu) << ESR_TEC_SHIFT) | (errors != 0u ? ESR_ACKNOWLEDGE_ERROR : 0u) |
           (errors > 255u ? ESR_BOFF : 0u) | (errors > 127u ? ESR_EPVF : 0u) |
           (errors >= 96u ? ESR_EWGF : 0u);
}

static uint32_t read_mailbox(const bxcan *can, uint32_t offset)
{
    const bxcan_mailbox *box = &can->mailboxes[(offset - MAILBOX_FIRST) / 16u];

    switch (offset % 16u) {
    case TIR:
        return box->tir;
    case TDTR:
        return box->tdtr;
    case TDLR:
        return box->tdlr;
    default:
        return box->tdhr;
    }
}

uint32_t bxcan_read(const bxcan *can, uint32_t offset)
{
    if (offset >= MAILBOX_FIRST && offset < MAILBOX_END) {
        return read_mailbox(can, offset);
    }
    if (offset >= RECEIVE_FIRST && offset < RECEIVE_END) {
        return bxcan_receiver_read(&can->receiver, offset);
    }
    if (offset >= FMR && offset < FILTER_END && can->receiver.index == 0u) {
        return bxcan_filters_read(can->receiver.filters, offset);
    }
    switch (offset) {
    case MCR:
        return can->mcr;
    case MSR:
        return mode_status(can);
    case TSR:
        return transmit_status(can);
    case RF0R:
        return bxcan_fifo_read_status(&can->receiver.fifos[0]);
    case RF1R:
        return bxcan_fifo_read_status(&can->receiver.fifos[1]);
    case IER:
        return can->ier;
    case ESR:
        return error_status(can);
    case BTR:
        return can->btr;
    default:
        report_fault("0", "CAN register 0x%03X is not modelled", offset);
        return 0;
    }
}

static void write_control(bxcan *can, uint32_t value, uint64_t now)
{
    const uint32_t changed = can->mcr ^ value;

    if ((value & MCR_RESET) != 0u) {
        bxcan_reset(can, now);
        return;
    }
    if ((value & MCR_TTCM) != 0u) {
        report_fault("0", "time-triggered mode is not modelled");
    }
    can->mcr = value;
    if ((changed & (MCR_INRQ | MCR_SLEEP)) != 0u) {
        bxcan_ask_mode(can, now);
    }
}

static void write_transmit_status(bxcan *can, uint32_t value)
{
    for (unsigned i = 0; i < BXCAN_MAILBOXES; i++) {
        const uint32_t bits = value >> (8u * i);

        if ((bits & TSR_RQCP) != 0u) {
            can->tsr &= ~(TSR_FLAGS << (8u * i)); /* clears what it tells about, too */
        }
        if ((bits & TSR_ABRQ) != 0u) {
            bxcan_abort(can, i);
        }
    }
}

static void write_mailbox(bxcan *can, uint32_t offset, uint32_t value, uint64_t now)
{
    const unsigned index = (offset - MAILBOX_FIRST) / 16u;
    bxcan_mailbox *box = &can->mailboxes[index];

    if (!bxcan_is_empty(box)) {
        report_fault("0", "mailbox %u written while it waits", index);
        return;
    }
    switch (offset % 16u) {
    case TIR:
        box->tir = value;
        if ((value & TIR_TXRQ) != 0u) {
            can->tsr &= ~(TSR_FLAGS << (8u * index));
            bxcan_request(can, index, now);
        }
        break;
    case TDTR:
        box->tdtr = value;
        break;
    case TDLR:
        box->tdlr = value;
        break;
    default:
        box->tdhr = value;
        break;
    }
}

void bxcan_write(bxcan *can, uint32_t offset, uint32_t value, uint64_t now)
{
    if (offset >= MAILBOX_FIRST && offset < MAILBOX_END) {
        write_mailbox(can, offset, value, now);
    } else if (offset >= FMR && offset < FILTER_END && can->receiver.index == 0u) {
        bxcan_filters_write(can->receiver.filters, offset, value);
    } else if (offset == MCR) {
        write_control(can, value, now);
    } else if (offset == TSR) {
        write_transmit_status(can, value);
    } else if (offset == RF0R || offset == RF1R) {
        bxcan_fifo_write_status(&can->receiver.fifos[offset == RF0R ? 0 : 1], value, now);
    } else if (offset == IER) {
        can->ier = value;
    } else if (offset == BTR) {
        /* Only initialisation mode opens it. */
        if (can->mode == BXCAN_INITIAL) {
            can->btr = value;
        }
    } else if (offset == MSR) {
        can->error_flag = can->error_flag && (value & MSR_ERRI) == 0u;
    } else if (offset != ESR) {
        report_fault("0", "CAN register 0x%03X is not modelled", offset);
    }
}
