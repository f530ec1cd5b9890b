#include "bxcan_fifo.h"

#include <string.h>

#include "bxcan_map.h"
#include "report.h"

#define RELEASE_NS 100u /* some clocks of the bus (assumed) */

void bxcan_fifo_reset(bxcan_fifo *fifo)
{
    const unsigned overruns = fifo->overruns;

    memset(fifo, 0, sizeof *fifo);
    fifo->overruns = overruns;
    fifo->released_at = UINT64_MAX;
}

void bxcan_fifo_put(bxcan_fifo *fifo, const bxcan_received *received, bool locked)
{
    if (fifo->count == BXCAN_FIFO_DEPTH) {
        fifo->flags |= RFR_FOVR;
        fifo->overruns++;
        if (locked) {
            return;
        }
        fifo->count--;
    }
    fifo->boxes[fifo->count++] = *received;
    if (fifo->count == BXCAN_FIFO_DEPTH) {
        fifo->flags |= RFR_FULL;
    }
}

uint32_t bxcan_fifo_read_status(const bxcan_fifo *fifo)
{
    return fifo->count | fifo->flags | (fifo->released_at != UINT64_MAX ? RFR_RFOM : 0u);
}

void bxcan_fifo_write_status(bxcan_fifo *fifo, uint32_t value, uint64_t now)
{
    fifo->flags &= ~(value & (RFR_FULL | RFR_FOVR));
    if ((value & RFR_RFOM) == 0u) {
        return;
    }
    if (fifo->released_at != UINT64_MAX) {
        report_fault("0", "a receive mailbox released twice");
    } else if (fifo->count != 0u) {
        fifo->released_at = now + RELEASE_NS;
    }
}

uint32_t bxcan_fifo_read(const bxcan_fifo *fifo, uint32_t offset)
{
    const bxcan_received *box = &fifo->boxes[0];

    if (fifo->count == 0u) {
        report_fault("0", "an empty receive mailbox was read");
    }
    switch (offset) {
    case RIR:
        return box->rir;
    case RDTR:
        return box->rdtr;
    case RDLR:
        return box->rdlr;
    default:
        return box->rdhr;
    }
}

void bxcan_fifo_advance(bxcan_fifo *fifo, uint64_t now)
{
    if (fifo->released_at > now) {
        return;
    }
    fifo->released_at = UINT64_MAX;
    fifo->count--;
    memmove(&fifo->boxes[0], &fifo->boxes[1], fifo->count * sizeof fifo->boxes[0]);
}

bool bxcan_fifo_request(const bxcan_fifo *fifo, uint32_t enabled)
{
    return ((enabled & FIFO_FMPIE) != 0u && fifo->count != 0u) ||
           ((enabled & FIFO_FFIE) != 0u && (fifo->flags & RFR_FULL) != 0u) ||
           ((enabled & FIFO_FOVIE) != 0u && (fifo->flags & RFR_FOVR) != 0u);
}
