#include "fdcan_elements.h"

#include "report.h"

static const uint8_t lengths[16] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64};

locum_frame fdcan_buffer_frame(const fdcan *can, unsigned buffer)
{
    const fdcan_list list = fdcan_transmit_list(can);
    const uint32_t *const element = &can->ram->words[list.start + buffer * list.element_words];
    const bool fd = (element[1] & E1_FD) != 0u && (can->values[CCCR] & CCCR_FDOE) != 0u;
    locum_frame frame = {0};

    frame.id = (element[0] & E0_EXTENDED) != 0u ? (element[0] & E0_ID) | LOCUM_ID_EXTENDED
                                                : (element[0] & E0_ID) >> 18;
    frame.bus = (uint8_t)can->index;
    frame.length = lengths[(element[1] >> 16) & 0xFu];
    if (!fd && frame.length > 8u) {
        frame.length = 8;
    }
    if (fd) {
        frame.id |= LOCUM_ID_FD;
        if ((element[1] & E1_BRS) != 0u && (can->values[CCCR] & CCCR_BRSE) != 0u) {
            frame.id |= LOCUM_ID_SWITCH_RATE;
        }
    }
    for (unsigned i = 0; i < frame.length; i++) {
        /* Bytes that an element has no room for are sent as 0xCC. */
        frame.data[i] = i / 4u + 2u < list.element_words
                            ? (uint8_t)(element[2u + i / 4u] >> (8u * (i % 4u)))
                            : 0xCCu;
    }
    if ((element[0] & E0_REMOTE) != 0u || (element[1] & E1_EVENT) != 0u) {
        report_fault(can->name, "a remote frame or a transmit event was asked for");
    }
    return frame;
}

/* Range, two identifiers, identifier and mask. */
static bool matches(unsigned type, uint32_t id, uint32_t id1, uint32_t id2)
{
    switch (type) {
    case 0:
        return id1 <= id && id <= id2;
    case 1:
        return id == id1 || id == id2;
    case 2:
        return ((id ^ id1) & id2) == 0u;
    default:
        return false;
    }
}

static fdcan_verdict decide(const fdcan *can, unsigned configuration, unsigned filter)
{
    if (configuration == 2u || configuration > 3u) {
        report_fault(can->name, "a filter into FIFO 1 or with priority is not modelled");
    }
    return (fdcan_verdict){configuration == 1u, true, filter};
}

fdcan_verdict fdcan_filter(const fdcan *can, uint32_t id)
{
    const bool extended = (id & LOCUM_ID_EXTENDED) != 0u;
    const fdcan_list list = extended ? fdcan_extended_list(can) : fdcan_standard_list(can);
    const uint32_t plain = id & E0_ID;
    const unsigned unmatched = (can->values[GFC] >> (extended ? 2u : 4u)) & 3u;

    for (unsigned i = 0; i < list.count; i++) {
        const uint32_t *const element = &can->ram->words[list.start + i * list.element_words];
        const unsigned type = (extended ? element[1] : element[0]) >> 30;
        const unsigned configuration = extended ? element[0] >> 29 : (element[0] >> 27) & 7u;
        const uint32_t id1 = extended ? element[0] & E0_ID : (element[0] >> 16) & 0x7FFu;
        const uint32_t id2 = extended ? element[1] & E0_ID : element[0] & 0x7FFu;
        const uint32_t seen = extended && type != 3u ? plain & can->values[XIDAM] : plain;

        if (configuration != 0u && matches(extended && type == 3u ? 0u : type, seen, id1, id2)) {
            return decide(can, configuration, i);
        }
    }
    if (unmatched == 1u) {
        report_fault(can->name, "FIFO 1 is not modelled");
    }
    return (fdcan_verdict){unmatched == 0u, false, 0};
}

static uint32_t code_of(uint8_t length)
{
    uint32_t code = 0;

    while (lengths[code] < length) {
        code++;
    }
    return code;
}

void fdcan_store(fdcan *can, unsigned element, const locum_frame *frame, fdcan_verdict verdict)
{
    const fdcan_list list = fdcan_fifo0(can);
    uint32_t *const words = &can->ram->words[list.start + element * list.element_words];
    const bool extended = (frame->id & LOCUM_ID_EXTENDED) != 0u;

    words[0] = extended ? (frame->id & E0_ID) | E0_EXTENDED : (frame->id & 0x7FFu) << 18;
    words[1] = (code_of(frame->length) << 16) | (verdict.filter << 24) |
               (verdict.matched ? 0u : E1_NO_MATCH) |
               ((frame->id & LOCUM_ID_FD) != 0u ? E1_FD : 0u) |
               ((frame->id & LOCUM_ID_SWITCH_RATE) != 0u ? E1_BRS : 0u);
    for (unsigned i = 0; i < frame->length && i / 4u + 2u < list.element_words; i++) {
        uint32_t *const word = &words[2u + i / 4u];
        const unsigned shift = 8u * (i % 4u);

        *word = (*word & ~(0xFFu << shift)) | ((uint32_t)frame->data[i] << shift);
    }
}
