#include "fdcan_layout.h"

#include "report.h"

/* Fixed layout, bytes from the controller's part (RM0440, "Message RAM"). */
#define PART_WORDS 0xD4u /* 0x350 bytes */
#define EXTENDED_AT (0x70u / 4u)
#define FIFO0_AT (0xB0u / 4u)
#define TRANSMIT_AT (0x278u / 4u)
#define FIXED_ELEMENT_WORDS 18u

static uint32_t element_words(uint32_t code)
{
    static const uint8_t bytes[8] = {8, 12, 16, 20, 24, 32, 48, 64};

    return 2u + bytes[code & 7u] / 4u;
}

static uint32_t start_of(uint32_t value)
{
    return (value >> 2) & 0x3FFFu;
}

fdcan_list fdcan_standard_list(const fdcan *can)
{
    const uint32_t value = can->kind->configurable ? can->values[SIDFC] : can->values[GFC];

    return can->kind->configurable
               ? (fdcan_list){start_of(value), (value >> 16) & 0xFFu, 1}
               : (fdcan_list){PART_WORDS * can->index, (value >> 16) & 0x1Fu, 1};
}

fdcan_list fdcan_extended_list(const fdcan *can)
{
    return can->kind->configurable
               ? (fdcan_list){start_of(can->values[XIDFC]), (can->values[XIDFC] >> 16) & 0x7Fu, 2}
               : (fdcan_list){PART_WORDS * can->index + EXTENDED_AT,
                              (can->values[GFC] >> 24) & 0xFu, 2};
}

fdcan_list fdcan_fifo0(const fdcan *can)
{
    return can->kind->configurable
               ? (fdcan_list){start_of(can->values[RXF0C]), (can->values[RXF0C] >> 16) & 0x7Fu,
                              element_words(can->values[RXESC])}
               : (fdcan_list){PART_WORDS * can->index + FIFO0_AT, 3, FIXED_ELEMENT_WORDS};
}

fdcan_list fdcan_transmit_list(const fdcan *can)
{
    return can->kind->configurable
               ? (fdcan_list){start_of(can->values[TXBC]), (can->values[TXBC] >> 24) & 0x3Fu,
                              element_words(can->values[TXESC])}
               : (fdcan_list){PART_WORDS * can->index + TRANSMIT_AT, 3, FIXED_ELEMENT_WORDS};
}

bool fdcan_is_queue(const fdcan *can)
{
    return (can->values[TXBC] & (can->kind->configurable ? TXBC_QUEUE : TXBC_QUEUE_FIXED)) != 0u;
}

static bool check_layout(const fdcan *can)
{
    const fdcan_list lists[4] = {fdcan_standard_list(can), fdcan_extended_list(can),
                                 fdcan_fifo0(can), fdcan_transmit_list(can)};
    bool good = true;

    if (can->kind->configurable && ((can->values[TXBC] >> 16) & 0x3Fu) != 0u) {
        report_fault(can->name, "dedicated transmit buffers are not modelled");
        good = false;
    }
    if (lists[0].count > (can->kind->configurable ? 128u : 28u) ||
        lists[1].count > (can->kind->configurable ? 64u : 8u) || lists[2].count > 64u ||
        lists[3].count > FDCAN_MAX_BUFFERS) {
        report_fault(can->name, "a list has more elements than there can be");
        good = false;
    }
    for (unsigned i = 0; i < 4u; i++) {
        const uint32_t end = lists[i].start + lists[i].count * lists[i].element_words;

        if (lists[i].count != 0u && end > can->kind->ram_words) {
            report_fault(can->name, "a list leaves the message RAM");
            good = false;
        }
        for (unsigned j = 0; j < i; j++) {
            const uint32_t other = lists[j].start + lists[j].count * lists[j].element_words;

            if (lists[i].count != 0u && lists[j].count != 0u && lists[i].start < other &&
                lists[j].start < end) {
                report_fault(can->name, "lists overlap in the message RAM");
                good = false;
            }
        }
    }
    return good;
}

/* Filters that the program has never written let in what they please. */
static bool check_filters(const fdcan *can)
{
    const fdcan_list lists[2] = {fdcan_standard_list(can), fdcan_extended_list(can)};

    for (unsigned i = 0; i < 2u; i++) {
        for (uint32_t at = 0; at < lists[i].count * lists[i].element_words; at++) {
            if (can->ram->words[(lists[i].start + at) % FDCAN_RAM_WORDS] == FDCAN_RAM_PAINT) {
                report_fault(can->name, "a filter that was never written is in use");
                return false;
            }
        }
    }
    return true;
}

/* The shortest segments; the compensation needs a prescaler of 1 or 2 and an offset. */
static bool check_timing(const fdcan *can)
{
    const uint32_t nbtp = can->values[NBTP];
    const uint32_t dbtp = can->values[DBTP];
    bool good = true;

    if ((nbtp & 0x7Fu) < 1u || ((nbtp >> 8) & 0xFFu) < 1u || (nbtp >> 25) > (nbtp & 0x7Fu)) {
        report_fault(can->name, "NBTP 0x%08X: a segment too short for the jump width", nbtp);
        good = false;
    }
    if ((can->values[CCCR] & CCCR_FDOE) == 0u) {
        return good;
    }
    if ((dbtp & 0xFu) > ((dbtp >> 4) & 0xFu)) {
        report_fault(can->name, "DBTP 0x%08X: the jump width is longer than the segment", dbtp);
        good = false;
    }
    if ((dbtp & DBTP_TDC) != 0u && ((dbtp >> 16) & 0x1Fu) > 1u) {
        report_fault(can->name, "delay compensation with a prescaler of more than 2");
        good = false;
    }
    return good;
}

bool fdcan_check_settings(const fdcan *can)
{
    const bool layout = check_layout(can);
    const bool timing = check_timing(can);
    const bool filters = check_filters(can);

    if (can->board.clock_hz(can->board.owner) > can->board.bus_hz(can->board.owner)) {
        report_fault(can->name, "the controller's clock is faster than that of its registers");
        return false;
    }
    return layout && timing && filters;
}
