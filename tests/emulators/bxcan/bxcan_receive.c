#include "bxcan_receive.h"

#include "bxcan_map.h"

void bxcan_receiver_reset(bxcan_receiver *receiver)
{
    if (receiver->index == 0u) {
        bxcan_filters_reset(receiver->filters);
    }
    for (unsigned i = 0; i < BXCAN_FIFOS; i++) {
        bxcan_fifo_reset(&receiver->fifos[i]);
    }
}

static uint32_t word_of(const locum_frame *frame, unsigned first)
{
    uint32_t word = 0;

    for (unsigned i = first; i < first + 4u && i < frame->length; i++) {
        word |= (uint32_t)frame->data[i] << (8u * (i - first));
    }
    return word;
}

void bxcan_receiver_hear(bxcan_receiver *receiver, const locum_frame *frame, bool locked)
{
    unsigned fifo;
    unsigned match;
    bxcan_received received;

    if (!bxcan_filters_pass(receiver->filters, receiver->index, frame->id, &fifo, &match)) {
        return;
    }
    received.rir =
        (frame->id & LOCUM_ID_EXTENDED) != 0u ? (frame->id << 3) | RIR_IDE : frame->id << 21;
    received.rdtr = (match << 8) | frame->length; /* the time stamp stays 0: TTCM is off */
    received.rdlr = word_of(frame, 0);
    received.rdhr = word_of(frame, 4);
    receiver->heard++;
    bxcan_fifo_put(&receiver->fifos[fifo], &received, locked);
}

uint32_t bxcan_receiver_read(const bxcan_receiver *receiver, uint32_t offset)
{
    return bxcan_fifo_read(&receiver->fifos[(offset - RECEIVE_FIRST) / 16u], offset % 16u);
}

void bxcan_receiver_advance(bxcan_receiver *receiver, uint64_t now)
{
    for (unsigned i = 0; i < BXCAN_FIFOS; i++) {
        bxcan_fifo_advance(&receiver->fifos[i], now);
    }
}

uint64_t bxcan_receiver_next(const bxcan_receiver *receiver)
{
    const uint64_t a = receiver->fifos[0].released_at;
    const uint64_t b = receiver->fifos[1].released_at;

    return a < b ? a : b;
}

unsigned bxcan_receiver_overruns(const bxcan_receiver *receiver)
{
    return receiver->fifos[0].overruns + receiver->fifos[1].overruns;
}
