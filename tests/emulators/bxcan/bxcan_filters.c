#include "bxcan_filters.h"

#include <string.h>

#include "bxcan_map.h"
#include "report.h"

#define MAX_FILTERS 4u /* of a bank */

/* What a bank compares: a value under a mask. */
typedef struct {
    uint32_t id;
    uint32_t mask;
} filter;

void bxcan_filters_reset(bxcan_filters *filters)
{
    const unsigned count = filters->count;

    memset(filters, 0, sizeof *filters);
    filters->count = count;
    filters->fmr = FMR_AT_RESET;
}

static bool is_bank(const bxcan_filters *filters, uint32_t offset)
{
    return offset >= FILTER_BANKS_FIRST && offset < FILTER_BANKS_FIRST + 8u * filters->count;
}

uint32_t bxcan_filters_read(const bxcan_filters *filters, uint32_t offset)
{
    if (is_bank(filters, offset)) {
        return filters->banks[(offset - FILTER_BANKS_FIRST) / 8u][(offset / 4u) % 2u];
    }
    switch (offset) {
    case FMR:
        return filters->fmr;
    case FM1R:
        return filters->fm1r;
    case FS1R:
        return filters->fs1r;
    case FFA1R:
        return filters->ffa1r;
    case FA1R:
        return filters->fa1r;
    default:
        report_fault("0", "CAN register 0x%03X is not modelled", offset);
        return 0;
    }
}

static void set_in_initialisation(const bxcan_filters *filters, uint32_t *place, uint32_t value)
{
    if ((filters->fmr & FMR_FINIT) == 0u) {
        report_fault("0", "a filter setting written outside the filters' initialisation");
        return;
    }
    *place = value;
}

static void write_bank(bxcan_filters *filters, uint32_t offset, uint32_t value)
{
    const unsigned bank = (offset - FILTER_BANKS_FIRST) / 8u;

    if ((filters->fmr & FMR_FINIT) == 0u && (filters->fa1r & (1u << bank)) != 0u) {
        report_fault("0", "filter bank %u written while it is active", bank);
        return;
    }
    filters->banks[bank][(offset / 4u) % 2u] = value;
}

static void write_master(bxcan_filters *filters, uint32_t value)
{
    const uint32_t changed = (filters->fmr ^ value) & FMR_SECOND_START;

    if (changed != 0u && filters->count == BXCAN_FILTER_BANKS) {
        if (((filters->fmr | value) & FMR_FINIT) == 0u) {
            report_fault("0", "the start bank written outside the filters' initialisation");
        }
        filters->fmr ^= changed;
    }
    filters->fmr = (filters->fmr & ~FMR_FINIT) | (value & FMR_FINIT);
}

void bxcan_filters_write(bxcan_filters *filters, uint32_t offset, uint32_t value)
{
    if (is_bank(filters, offset)) {
        write_bank(filters, offset, value);
        return;
    }
    if (offset != FMR && (value >> filters->count) != 0u) {
        report_fault("0", "there are %u filter banks", filters->count);
    }
    switch (offset) {
    case FMR:
        write_master(filters, value);
        break;
    case FM1R:
        set_in_initialisation(filters, &filters->fm1r, value);
        break;
    case FS1R:
        set_in_initialisation(filters, &filters->fs1r, value);
        break;
    case FFA1R:
        set_in_initialisation(filters, &filters->ffa1r, value);
        break;
    case FA1R:
        filters->fa1r = value;
        break;
    default:
        report_fault("0", "CAN register 0x%03X is not modelled", offset);
        break;
    }
}

/* Identifier, IDE and RTR (0: a data frame) as a bank's registers hold them. */
static uint32_t pattern_of(uint32_t id, bool wide)
{
    const bool extended = (id & LOCUM_ID_EXTENDED) != 0u;
    const uint32_t standard_part = extended ? (id >> 18) & 0x7FFu : id;
    const uint32_t extension = extended ? id & 0x3FFFFu : 0u;

    if (wide) {
        return (standard_part << 21) | (extension << 3) | (extended ? 4u : 0u);
    }
    return (standard_part << 5) | (extended ? 8u : 0u) | (extension >> 15);
}

/* The filters of a bank in the order in which they are numbered. */
static unsigned filters_of(const bxcan_filters *filters, unsigned bank, filter found[MAX_FILTERS])
{
    const uint32_t r1 = filters->banks[bank][0];
    const uint32_t r2 = filters->banks[bank][1];
    const bool list = (filters->fm1r & (1u << bank)) != 0u;

    if ((filters->fs1r & (1u << bank)) != 0u) {
        const uint32_t all = 0xFFFFFFFEu; /* bit 0 means nothing */

        found[0] = (filter){r1, list ? all : r2 & all};
        found[1] = (filter){r2, all};
        return list ? 2u : 1u;
    }
    if (!list) {
        found[0] = (filter){r1 & 0xFFFFu, r1 >> 16};
        found[1] = (filter){r2 & 0xFFFFu, r2 >> 16};
        return 2;
    }
    found[0] = (filter){r1 & 0xFFFFu, 0xFFFFu};
    found[1] = (filter){r1 >> 16, 0xFFFFu};
    found[2] = (filter){r2 & 0xFFFFu, 0xFFFFu};
    found[3] = (filter){r2 >> 16, 0xFFFFu};
    return 4;
}

/* Banks from the start bank on belong to the second controller. */
static bool belongs(const bxcan_filters *filters, unsigned bank, unsigned controller)
{
    const unsigned start = filters->count == BXCAN_FILTER_BANKS
                               ? (filters->fmr & FMR_SECOND_START) >> FMR_SECOND_START_SHIFT
                               : filters->count;

    return (bank >= start ? 1u : 0u) == controller;
}

bool bxcan_filters_pass(const bxcan_filters *filters, unsigned controller, uint32_t id,
                        unsigned *fifo, unsigned *match)
{
    unsigned numbered[2] = {0, 0};
    int best = -1;

    if ((filters->fmr & FMR_FINIT) != 0u) {
        return false; /* nothing is received meanwhile */
    }
    for (unsigned bank = 0; bank < filters->count; bank++) {
        const bool wide = ((filters->fs1r >> bank) & 1u) != 0u;
        const unsigned to = (filters->ffa1r >> bank) & 1u;
        /* The wide scale goes before the short one, then a list before a mask. */
        const int rank = (wide ? 2 : 0) + (int)((filters->fm1r >> bank) & 1u);
        filter found[MAX_FILTERS];
        const unsigned count = filters_of(filters, bank, found);
        const uint32_t pattern = pattern_of(id, wide);

        if (!belongs(filters, bank, controller)) {
            continue;
        }
        for (unsigned i = 0; ((filters->fa1r >> bank) & 1u) != 0u && i < count; i++) {
            if (((pattern ^ found[i].id) & found[i].mask) == 0u && rank > best) {
                best = rank;
                *fifo = to;
                *match = numbered[to] + i;
            }
        }
        numbered[to] += count; /* banks count whether active or not */
    }
    return best >= 0;
}
