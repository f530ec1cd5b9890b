#include "mcp2515.h"

#include "mcp2515_start.h"
#include "mcp2515_board.h"
#include "mcp2515_bus_off.h"
#include "mcp2515_registers.h"

#define BUFFERS 3u
#define HEADER_BYTES 5u

/* A rank is TXP * 4 + buffer: the greater, the sooner. */
#define RANKS 16u
#define FIRST_RANK 8u /* for the first frame of an empty controller: room above and below */
#define NO_RANK 0xFFu
#define RANK_BUFFER(rank) ((uint8_t)((rank)&3u))
#define RANK_TXP(rank) ((uint8_t)((rank) >> 2))
#define RANKS_SHARE_TXP(a, b) ((uint8_t)((a) ^ (b)) < 4u)

/* Arrays of small elements instead of an array of structures: no multiplication on the way. */
typedef struct {
    /* Identifiers as SIDH, SIDL, EID8, EID0 from the top: compare in the order of arbitration. */
    uint32_t orders[BUFFERS];
    uint8_t ranks[BUFFERS]; /* of the last loads; each TXP is still in its buffer's register */
    uint8_t waiting;        /* bit n: buffer n; may be stale while the interrupt line is low */
    bool answers;
#if MCP2515_LINES_ARE_SHARED
    bool asks; /* transmit buffers pull the interrupt line, too */
#endif
} controller_state;

static controller_state controllers[BOARD_CONTROLLER_COUNT];

/* Makes the compiler keep an address instead of multiplying it together again at each use. With one
 * controller there is nothing to multiply. */
#if BOARD_CONTROLLER_COUNT == 1u
#define KEEP_ADDRESS(pointer) ((void)(pointer))
#else
#define KEEP_ADDRESS(pointer) __asm__("" : "+r"(pointer))
#endif

ALWAYS_INLINE uint32_t order_of(uint32_t id)
{
    const uint16_t low = (uint16_t)id;
    uint16_t high;

    if ((id & LOCUM_ID_EXTENDED) == 0u) {
        /* low << 5 by bytes, which the compiler shifts without a loop */
        const uint8_t sidl = (uint8_t)((uint8_t)low << 5);
        uint8_t sidh = (uint8_t)low;

        sidh >>= 3;
        sidh |= (uint8_t)((uint8_t)(low >> 8) << 5);
        return (uint32_t)sidh << 24 | (uint32_t)sidl << 16;
    }
    high = (uint16_t)(id >> 16); /* 100bbbbb bbbbbbee: base identifier, then EID17 and EID16 */
    return (uint32_t)(uint16_t)((uint16_t)((uint16_t)(high << 3) & 0xFFE0u) | MCP_SIDL_EXIDE |
                                (high & 3u))
               << 16 |
           low;
}

/* A constant on a board with one controller, which spares a quarter of the work around the bytes.
 */
static inline uint8_t bus_of(const locum_frame *frame)
{
    return BOARD_CONTROLLER_COUNT == 1u ? 0u : frame->bus;
}

/* 1 << buffer, which the compiler would make a loop of. */
ALWAYS_INLINE uint8_t bit_of(uint8_t buffer)
{
    return buffer == 0u ? 1u : buffer == 1u ? 2u : 4u;
}

ALWAYS_INLINE uint8_t waiting_in(uint8_t status)
{
    uint8_t waiting = 0;

    if ((status & MCP_STATUS_TXREQ_ALL) == 0u) {
        return 0; /* usual, so it comes first */
    }
    if ((status & MCP_STATUS_TXREQ_0) != 0u) {
        waiting |= 1u;
    }
    if ((status & MCP_STATUS_TXREQ_1) != 0u) {
        waiting |= 2u;
    }
    if ((status & MCP_STATUS_TXREQ_2) != 0u) {
        waiting |= 4u;
    }
    return waiting;
}

/* What is known of the waiting frames may be stale: the interrupt line tells, unless it is left to
 * others. */
ALWAYS_INLINE bool may_be_stale(uint8_t bus)
{
    return MCP2515_LINES_ARE_SHARED || pins_int_low(bus);
}

#if MCP2515_LINES_ARE_SHARED
static void ask_for_room(controller_state *state, uint8_t bus, bool ask)
{
    if (state->asks == ask) {
        return;
    }
    state->asks = ask;
    pins_select(bus);
    spi_write(MCP_BIT_MODIFY);
    spi_write(MCP_CANINTE);
    spi_write(MCP_INT_TX_ALL);
    spi_write(ask ? MCP_INT_TX_ALL : 0u);
    pins_deselect();
}
#endif

static void read_status(controller_state *state, uint8_t bus)
{
    pins_select(bus);
    spi_write(MCP_READ_STATUS);
    state->waiting = waiting_in(spi_read());
    pins_deselect();
}

/* The rank nearest to the middle of from ... to - 1 whose buffer is free, or NO_RANK. */
static uint8_t free_rank(uint8_t waiting, uint8_t from, uint8_t to)
{
    uint8_t above = (uint8_t)((uint8_t)(from + to) >> 1);
    uint8_t below = above;

    while (above < to || below > from) {
        if (above < to) {
            if (RANK_BUFFER(above) < BUFFERS && (waiting & bit_of(RANK_BUFFER(above))) == 0u) {
                return above;
            }
            above++;
        }
        if (below > from) {
            below--;
            if (RANK_BUFFER(below) < BUFFERS && (waiting & bit_of(RANK_BUFFER(below))) == 0u) {
                return below;
            }
        }
    }
    return NO_RANK;
}

/* A rank behind all that go first and before all that come later; NO_RANK if none fits. */
static uint8_t find_rank(const controller_state *state, uint32_t order)
{
    const uint8_t waiting = state->waiting;
    uint8_t from = 0;
    uint8_t to = RANKS;

    for (uint8_t i = 0; i < BUFFERS; i++) {
        if ((waiting & bit_of(i)) == 0u) {
            continue;
        }
        if (state->orders[i] == order) {
            return NO_RANK;
        }
        if (state->orders[i] > order) {
            if (state->ranks[i] >= from) {
                from = (uint8_t)(state->ranks[i] + 1u);
            }
        } else if (state->ranks[i] < to) {
            to = state->ranks[i];
        }
    }
    return free_rank(waiting, from, to);
}

/* Keeps the work in front of it in the time of a byte that was begun. */
#define BARRIER() __asm__ volatile("" : : : "memory")

/* What a buffer gets in front of the data. */
ALWAYS_INLINE void make_header(uint8_t *header, uint32_t order, uint8_t length)
{
    header[0] = (uint8_t)(order >> 24);
    header[1] = (uint8_t)(order >> 16);
    header[2] = (uint8_t)(order >> 8);
    header[3] = (uint8_t)order;
    header[4] = length;
}

ALWAYS_INLINE void load(controller_state *state, const locum_frame *frame, uint8_t rank,
                        uint32_t order, const uint8_t *header)
{
    const uint8_t bus = bus_of(frame);
    const uint8_t number = RANK_BUFFER(rank);
    const uint8_t bit = bit_of(number);

    pins_select(bus);
    if (RANKS_SHARE_TXP(state->ranks[number], rank)) {
        spi_begin_awaited((uint8_t)MCP_LOAD_TX(number));
    } else {
        spi_write(MCP_WRITE);
        spi_write((uint8_t)MCP_TXBCTRL(number));
        spi_begin_awaited(RANK_TXP(rank));
    }
    state->orders[number] = order;
    BARRIER();
    spi_await();
    spi_write_all(header, HEADER_BYTES);
    if (frame->length != 0u) {
        spi_write_all(frame->data, frame->length);
    }
    pins_deselect();
    pins_select(bus);
    spi_begin_awaited((uint8_t)(MCP_RTS | bit));
    state->ranks[number] = rank;
    state->waiting |= bit;
    BARRIER();
    spi_await();
    pins_deselect();
}

bool mcp2515_send(const locum_frame *frame)
{
    const uint8_t bus = bus_of(frame);
    controller_state *state = &controllers[bus];
    uint8_t header[HEADER_BYTES];
    uint32_t order;
    uint8_t rank;

    KEEP_ADDRESS(state);
    if (!state->answers) {
        return false;
    }
    if (state->waiting != 0u && may_be_stale(bus)) {
        /* As read_status, with the frame's own work in the time of the two bytes. */
        pins_select(bus);
        spi_begin_awaited(MCP_READ_STATUS);
        order = order_of(frame->id);
        spi_await();
        spi_begin_awaited(0);
        make_header(header, order, frame->length);
        BARRIER();
        spi_await();
        state->waiting = waiting_in(spi_taken());
        pins_deselect();
    } else {
        order = order_of(frame->id);
        make_header(header, order, frame->length);
    }
    if (state->waiting == 0u) {
        /* By far the usual case; with a constant rank the compiler folds most of the work. */
        load(state, frame, FIRST_RANK, order, header);
        return true;
    }
    rank = find_rank(state, order);
    if (rank == NO_RANK) {
        return false;
    }
    load(state, frame, rank, order, header);
    return true;
}

#if LOCUM_WATCHES_LEAVING
bool mcp2515_waits(uint8_t bus, uint32_t id)
{
    controller_state *state = &controllers[bus];
    const uint32_t order = order_of(id);

    if (state->waiting != 0u) {
        read_status(state, bus);
    }
    for (uint8_t i = 0; i < BUFFERS; i++) {
        if ((state->waiting & bit_of(i)) != 0u && state->orders[i] == order) {
            return true;
        }
    }
    return false;
}
#endif

bool mcp2515_made_room(void)
{
    bool made = false;

    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        controller_state *state = &controllers[bus];
        const uint8_t before = state->waiting;

        if (!state->answers || before == 0u) {
#if MCP2515_LINES_ARE_SHARED
            ask_for_room(state, bus, false);
#endif
            continue;
        }
        if (may_be_stale(bus)) {
            /* First the flags, then the look: what ends in between pulls the line down again. */
            pins_select(bus);
            spi_write(MCP_BIT_MODIFY);
            spi_write(MCP_CANINTF);
            spi_write(MCP_INT_TX_ALL);
            spi_write(0);
            pins_deselect();
        }
#if MCP2515_LINES_ARE_SHARED
        ask_for_room(state, bus, true);
#endif
        /* Also with the line high: a broken wire must not silence the board. */
        read_status(state, bus);
        made = made || state->waiting != before;
    }
    return made;
}

bool mcp2515_calls(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if (controllers[bus].answers && pins_int_low(bus)) {
            return true;
        }
    }
    return false;
}

bool mcp2515_look_after(void)
{
    bool anew = false;

    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        controller_state *state = &controllers[bus];

#if LOCUM_GUARD_BUS_OFF
        if (mcp2515_is_off(bus)) {
            continue;
        }
#endif
        if (mcp2515_is_configured(bus)) {
            state->answers = true;
        } else if (mcp2515_awaits_settings(bus)) {
            mcp2515_configure(bus);
            mcp2515_join(bus);
            mcp2515_forget(bus);
            state->answers = true;
            anew = true;
        } else {
            mcp2515_reset(bus);
            mcp2515_forget(bus);
            state->answers = false;
        }
    }
    return anew;
}

#if MCP2515_LINES_ARE_SHARED
void mcp2515_needs_no_room(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        ask_for_room(&controllers[bus], bus, false);
    }
}
#endif

bool mcp2515_answers(uint8_t bus)
{
    return controllers[bus].answers;
}

#if LOCUM_GUARDS
void mcp2515_modify(uint8_t bus, uint8_t address, uint8_t mask, uint8_t value)
{
    pins_select(bus);
    spi_write(MCP_BIT_MODIFY);
    spi_write(address);
    spi_write(mask);
    spi_write(value);
    pins_deselect();
}

void mcp2515_withdraw(uint8_t bus)
{
    controller_state *state = &controllers[bus];

    if (state->waiting == 0u) {
        return;
    }
    for (uint8_t i = 0; i < BUFFERS; i++) {
        if ((state->waiting & bit_of(i)) != 0u) {
            mcp2515_modify(bus, (uint8_t)MCP_TXBCTRL(i), MCP_TXREQ, 0);
        }
    }
    read_status(state, bus);
}
#endif

void mcp2515_forget(uint8_t bus)
{
    controllers[bus].waiting = 0;
#if MCP2515_LINES_ARE_SHARED
    controllers[bus].asks = false;
#endif
    for (uint8_t i = 0; i < BUFFERS; i++) {
        controllers[bus].ranks[i] = 0; /* as the priority fields */
    }
}

void mcp2515_init(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        controllers[bus].answers = mcp2515_start(bus);
    }
}
