/* The controllers behind one set of functions. */
#include "can_operations.h"

#include "board_model.h"

static void bxcan_do_reset(void *can, uint64_t now)
{
    bxcan_reset(can, now);
}

static void bxcan_do_sent(void *can, uint32_t tag)
{
    bxcan_sent(can, tag);
}

static void bxcan_do_hear(void *can, const locum_frame *frame)
{
    bxcan_hear(can, frame);
}

static void bxcan_do_count(void *can, unsigned errors, uint64_t now)
{
    bxcan_count_errors(can, errors, now);
}

static bool bxcan_do_on_bus(const void *can)
{
    return bxcan_on_bus(can);
}

static void bxcan_do_advance(void *can, uint64_t now)
{
    bxcan_advance(can, now);
}

static uint64_t bxcan_do_next(const void *can)
{
    return bxcan_next(can);
}

static void bxcan_do_print(const void *can)
{
    bxcan_print_waiting(can);
}

static bool bxcan_do_request(const void *can, unsigned number)
{
    switch (number) {
    case 0:
        return bxcan_transmit_request(can);
    case 1:
    case 2:
        return bxcan_receive_request(can, number - 1u);
    default:
        return bxcan_error_request(can);
    }
}

static unsigned bxcan_do_heard(const void *can)
{
    return ((const bxcan *)can)->receiver.heard;
}

static unsigned bxcan_do_overruns(const void *can)
{
    return bxcan_receiver_overruns(&((const bxcan *)can)->receiver);
}

const can_operations can_operations_bxcan = {
    bxcan_do_reset,   bxcan_do_sent,    bxcan_do_hear,     bxcan_do_count,
    bxcan_do_on_bus,  bxcan_do_advance, bxcan_do_next,     bxcan_do_print,
    bxcan_do_request, bxcan_do_heard,   bxcan_do_overruns,
};

static void fdcan_do_reset(void *can, uint64_t now)
{
    fdcan_reset(can, now);
}

static void fdcan_do_sent(void *can, uint32_t tag)
{
    fdcan_sent(can, tag);
}

static void fdcan_do_hear(void *can, const locum_frame *frame)
{
    fdcan_hear(can, frame);
}

static void fdcan_do_count(void *can, unsigned errors, uint64_t now)
{
    fdcan_count_errors(can, errors, now);
}

static bool fdcan_do_on_bus(const void *can)
{
    return fdcan_on_bus(can);
}

static void fdcan_do_advance(void *can, uint64_t now)
{
    fdcan_advance(can, now);
}

static uint64_t fdcan_do_next(const void *can)
{
    return fdcan_next(can);
}

static void fdcan_do_print(const void *can)
{
    fdcan_print_waiting(can);
}

static bool fdcan_do_request(const void *can, unsigned number)
{
    return fdcan_request_line(can, number);
}

static unsigned fdcan_do_heard(const void *can)
{
    return ((const fdcan *)can)->heard;
}

static unsigned fdcan_do_overruns(const void *can)
{
    return ((const fdcan *)can)->overruns;
}

const can_operations can_operations_fdcan = {
    fdcan_do_reset,   fdcan_do_sent,    fdcan_do_hear,     fdcan_do_count,
    fdcan_do_on_bus,  fdcan_do_advance, fdcan_do_next,     fdcan_do_print,
    fdcan_do_request, fdcan_do_heard,   fdcan_do_overruns,
};
