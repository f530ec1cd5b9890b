#include "mcp2515.h"

#include "mcp2515_start.h"
#include "mcp2515_registers.h"
#include "pins.h"
#include "spi.h"

#define BUFFERS 3u

/* A rank is TXP * 4 + buffer: the greater, the sooner. */
#define RANKS 16u
#define FIRST_RANK 8u /* for the first frame of an empty controller: room above and below */
#define NO_RANK 0xFFu
#define RANK_BUFFER(rank) ((uint8_t)((rank)&3u))
#define RANK_TXP(rank) ((uint8_t)((rank) >> 2))

typedef struct {
    /* Identifier as SIDH, SIDL, EID8, EID0 from the top: compares in the order of arbitration. */
    uint32_t order[BUFFERS];
    uint8_t rank[BUFFERS]; /* of the last load; its TXP is still in the buffer's register */
    uint8_t waiting;       /* as in READ STATUS; a bit may be stale while the line is low */
    bool answers;
} controller_state;

static controller_state controllers[BOARD_CONTROLLER_COUNT];

static uint32_t order_of(uint32_t id)
{
    const uint16_t low = (uint16_t)id;
    uint16_t high;

    if ((id & LOCUM_ID_EXTENDED) == 0u) {
        return (uint32_t)(uint16_t)(low << 5) << 16;
    }
    high = (uint16_t)(id >> 16); /* 100bbbbb bbbbbbee: base identifier, then EID17 and EID16 */
    return (uint32_t)(uint16_t)((uint16_t)((high << 3) & 0xFFE0u) | MCP_SIDL_EXIDE | (high & 3u))
               << 16 |
           low;
}

static void read_status(uint8_t bus)
{
    pins_select(bus);
    spi_write(MCP_READ_STATUS);
    controllers[bus].waiting = spi_read() & MCP_STATUS_TXREQ_ALL;
    pins_deselect();
}

static uint8_t waiting_bit(uint8_t buffer)
{
    return buffer == 0u   ? MCP_STATUS_TXREQ_0
           : buffer == 1u ? MCP_STATUS_TXREQ_1
                          : MCP_STATUS_TXREQ_2;
}

static uint8_t request_to_send(uint8_t buffer)
{
    return buffer == 0u ? MCP_RTS_0 : buffer == 1u ? MCP_RTS_1 : MCP_RTS_2;
}

static bool is_waiting(const controller_state *state, uint8_t buffer)
{
    return (state->waiting & waiting_bit(buffer)) != 0u;
}

/* A rank in the middle between those that go before and those that go after; NO_RANK if none fits.
 */
static uint8_t find_rank(const controller_state *state, uint32_t order)
{
    uint8_t from = 0;
    uint8_t to = RANKS;
    uint8_t middle;

    for (uint8_t buffer = 0; buffer < BUFFERS; buffer++) {
        if (!is_waiting(state, buffer)) {
            continue;
        }
        if (state->order[buffer] == order) {
            return NO_RANK;
        }
        if (state->order[buffer] > order) {
            if (state->rank[buffer] >= from) {
                from = (uint8_t)(state->rank[buffer] + 1u);
            }
        } else if (state->rank[buffer] < to) {
            to = state->rank[buffer];
        }
    }
    middle = (uint8_t)((from + to) >> 1);
    for (uint8_t away = 0; away < RANKS; away++) {
        const uint8_t above = (uint8_t)(middle + away);
        const uint8_t below = (uint8_t)(middle - away);

        if (above < to && RANK_BUFFER(above) < BUFFERS && !is_waiting(state, RANK_BUFFER(above))) {
            return above;
        }
        if (below >= from && below < to && RANK_BUFFER(below) < BUFFERS &&
            !is_waiting(state, RANK_BUFFER(below))) {
            return below;
        }
    }
    return NO_RANK;
}

static void load(const locum_frame *frame, uint8_t rank, uint32_t order)
{
    controller_state *state = &controllers[frame->bus];
    const uint8_t buffer = RANK_BUFFER(rank);
    uint8_t header[5];

    pins_select(frame->bus);
    if (RANK_TXP(state->rank[buffer]) == RANK_TXP(rank)) {
        spi_begin((uint8_t)MCP_LOAD_TX(buffer));
    } else {
        spi_write(MCP_WRITE);
        spi_write((uint8_t)MCP_TXBCTRL(buffer));
        spi_begin(RANK_TXP(rank));
    }
    /* The byte on its way leaves time for this; the barrier keeps the five stores behind it. */
    __asm__ volatile("" ::: "memory");
    header[0] = (uint8_t)(order >> 24);
    header[1] = (uint8_t)(order >> 16);
    header[2] = (uint8_t)(order >> 8);
    header[3] = (uint8_t)order;
    header[4] = frame->length;
    __builtin_avr_delay_cycles(SPI_BYTE_CYCLES - 12);
    spi_write_all(header, sizeof header);
    if (frame->length != 0u) {
        spi_write_all(frame->data, frame->length);
    }
    pins_deselect();
    pins_select(frame->bus);
    spi_begin(request_to_send(buffer));
    state->order[buffer] = order;
    state->rank[buffer] = rank;
    state->waiting |= waiting_bit(buffer);
    spi_pause();
    pins_deselect();
}

bool mcp2515_send(const locum_frame *frame)
{
    controller_state *state = &controllers[frame->bus];
    const uint32_t order = order_of(frame->id);
    uint8_t rank = FIRST_RANK;

    if (!state->answers) {
        return false;
    }
    if (state->waiting != 0u && pins_int_low(frame->bus)) {
        read_status(frame->bus);
    }
    if (state->waiting != 0u) {
        rank = find_rank(state, order);
        if (rank == NO_RANK) {
            return false;
        }
    }
    load(frame, rank, order);
    return true;
}

bool mcp2515_made_room(void)
{
    bool made = false;

    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        controller_state *state = &controllers[bus];
        const uint8_t before = state->waiting;

        if (!state->answers || before == 0u) {
            continue;
        }
        if (pins_int_low(bus)) {
            /* First the flags, then the look: what ends in between pulls the line down again. */
            pins_select(bus);
            spi_write(MCP_BIT_MODIFY);
            spi_write(MCP_CANINTF);
            spi_write(MCP_INT_TX_ALL);
            spi_write(0);
            pins_deselect();
        }
        /* Also with the line high: a broken wire must not silence the board. */
        read_status(bus);
        made = made || state->waiting != before;
    }
    return made;
}

bool mcp2515_calls(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        if (pins_int_low(bus)) {
            return true;
        }
    }
    return false;
}

void mcp2515_init(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        controllers[bus].answers = mcp2515_start(bus);
    }
}
