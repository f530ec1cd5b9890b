/* The controller as the program sees it. */
#include "fdcan_send.h"
#include "report.h"

static const fdcan_register *register_at(const fdcan *can, uint32_t offset)
{
    for (unsigned i = 0; i < can->kind->register_count; i++) {
        if (can->kind->registers[i].offset == offset) {
            return &can->kind->registers[i];
        }
    }
    report_fault(can->name, "FDCAN register 0x%03X is not modelled", offset);
    return NULL;
}

static uint32_t protocol_status(const fdcan *can)
{
    const uint32_t errors = can->transmit_errors;

    return PSR_LEC_NONE | (can->mode == FDCAN_NORMAL ? PSR_IDLE : 0u) |
           (errors > 255u ? PSR_BO : 0u) | (errors > 127u ? PSR_EP : 0u) |
           (errors > 95u ? PSR_EW : 0u);
}

static uint32_t fifo_status(const fdcan *can)
{
    const unsigned depth = fdcan_fifo0(can).count;
    const unsigned put = depth == 0u ? 0u : (can->get + can->fill) % depth;

    return can->fill | (can->get << 8) | (put << 16) |
           (depth != 0u && can->fill == depth ? RXF0S_FULL : 0u) |
           ((can->values[IR] & can->kind->rf0l) != 0u ? RXF0S_LOST : 0u);
}

static uint32_t queue_status(const fdcan *can)
{
    const unsigned put = fdcan_put_index(can);

    return put == fdcan_transmit_list(can).count ? TXFQS_FULL : put << 16;
}

uint32_t fdcan_read(fdcan *can, uint32_t offset)
{
    const fdcan_register *const place = register_at(can, offset);

    switch (place == NULL ? FDCAN_REGISTERS : place->name) {
    case FDCAN_REGISTERS:
        return 0;
    case CCCR:
        /* INIT reads 1 when it has taken effect. */
        return can->mode == FDCAN_INITIAL || can->mode_at == UINT64_MAX
                   ? can->values[CCCR]
                   : can->values[CCCR] & ~CCCR_INIT;
    case ECR:
        return can->transmit_errors & 0xFFu;
    case PSR:
        return protocol_status(can);
    case RXF0S:
        return fifo_status(can);
    case TXFQS:
        return queue_status(can);
    case TXBRP:
        return can->pending;
    default:
        return can->values[place->name];
    }
}

static void write_control(fdcan *can, uint32_t value, uint64_t now)
{
    const uint32_t old = can->values[CCCR];
    const bool open =
        can->mode == FDCAN_INITIAL && (old & CCCR_INIT) != 0u && (old & CCCR_CCE) != 0u;

    if ((value & ~CCCR_MODELLED) != 0u) {
        report_fault(can->name, "CCCR mode 0x%X is not modelled", value & ~CCCR_MODELLED);
    }
    if ((value & CCCR_CCE) != 0u && (can->mode != FDCAN_INITIAL || (value & CCCR_INIT) == 0u)) {
        report_fault(can->name, "CCE written before INIT has taken effect");
        value &= ~CCCR_CCE;
    }
    if (((value ^ old) & (CCCR_FDOE | CCCR_BRSE)) != 0u && !open) {
        report_fault(can->name, "a protected bit of CCCR written without CCE");
        value = (value & ~(CCCR_FDOE | CCCR_BRSE)) | (old & (CCCR_FDOE | CCCR_BRSE));
    }
    can->values[CCCR] = value;
    if ((value & ~old & CCCR_CCE) != 0u) {
        can->pending = 0; /* CCE resets requests and FIFOs */
        can->fill = 0;
        can->get = 0;
    }
    if (((value ^ old) & CCCR_INIT) != 0u) {
        fdcan_ask_mode(can, now);
        if ((value & CCCR_INIT) == 0u) {
            (void)fdcan_check_settings(can);
        }
    }
}

static void acknowledge(fdcan *can, uint32_t index)
{
    const unsigned depth = fdcan_fifo0(can).count;

    if (can->fill == 0u || index != can->get) {
        report_fault(can->name, "FIFO element %u acknowledged, %u is the oldest of %u", index,
                     can->get, can->fill);
        return;
    }
    can->get = (can->get + 1u) % depth;
    can->fill--;
}

static void write_bits(fdcan *can, uint32_t bits, uint64_t now, bool request)
{
    for (unsigned i = 0; i < fdcan_transmit_list(can).count; i++) {
        const bool waits = (can->pending & (1u << i)) != 0u;

        if ((bits & (1u << i)) == 0u || waits == request) {
            continue;
        }
        if (request) {
            fdcan_request(can, i, now);
        } else {
            fdcan_cancel(can, i);
        }
    }
}

void fdcan_write(fdcan *can, uint32_t offset, uint32_t value, uint64_t now)
{
    const fdcan_register *const place = register_at(can, offset);
    const uint32_t open = CCCR_INIT | CCCR_CCE;

    if (place == NULL) {
        return;
    }
    if (place->is_protected && ((can->values[CCCR] & open) != open || can->mode != FDCAN_INITIAL)) {
        report_fault(can->name, "protected register 0x%02X written without INIT and CCE", offset);
        return;
    }
    if ((value & ~place->writable) != 0u && place->name != IR) {
        report_fault(can->name, "register 0x%02X: bits 0x%08X do not exist", offset,
                     value & ~place->writable);
    }
    value &= place->writable;
    switch (place->name) {
    case CCCR:
        write_control(can, value, now);
        break;
    case IR:
        can->values[IR] &= ~value;
        break;
    case RXF0A:
        acknowledge(can, value);
        break;
    case TXBAR:
        write_bits(can, value, now, true);
        break;
    case TXBCR:
        write_bits(can, value, now, false);
        break;
    case GFC:
    case RXF0C:
        if ((value & (place->name == GFC ? GFC_OVERWRITE_FIXED : RXF0C_OVERWRITE)) != 0u) {
            report_fault(can->name, "the FIFO's overwrite mode is not modelled");
        }
        can->values[place->name] = value;
        break;
    default:
        if (place->writable == 0u) {
            report_fault(can->name, "register 0x%02X cannot be written", offset);
        }
        can->values[place->name] = value;
        break;
    }
}

uint32_t fdcan_ram_read(const fdcan_ram *ram, const fdcan_kind *kind, uint32_t offset)
{
    if (offset / 4u >= kind->ram_words) {
        report_fault("-", "read behind the message RAM at 0x%X", offset);
        return 0;
    }
    return ram->words[offset / 4u];
}

void fdcan_ram_write(fdcan_ram *ram, const fdcan_kind *kind, uint32_t offset, uint32_t value)
{
    if (offset / 4u >= kind->ram_words) {
        report_fault("-", "written behind the message RAM at 0x%X", offset);
        return;
    }
    ram->words[offset / 4u] = value;
}
