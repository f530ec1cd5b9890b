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

/* A transmit buffer of a controller. */
typedef struct {
    /* Identifier as SIDH, SIDL, EID8, EID0 from the top: compares in the order of arbitration. */
    uint32_t order;
    uint8_t rank; /* of the last load; its TXP is still in the buffer's register */
} buffer_state;

typedef struct {
    buffer_state buffers[BUFFERS];
    uint8_t waiting; /* as in READ STATUS; a bit may be stale while the interrupt line is low */
    bool answers;
} controller_state;

static controller_state controllers[BOARD_CONTROLLER_COUNT];

/* Makes the compiler keep an address instead of multiplying it together again at each use. */
#define KEEP_ADDRESS(pointer) __asm__("" : "+r"(pointer))

static inline uint32_t order_of(uint32_t id)
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

static inline void read_status(controller_state *state, uint8_t bus)
{
    pins_select(bus);
    spi_write(MCP_READ_STATUS);
    state->waiting = spi_read() & MCP_STATUS_TXREQ_ALL;
    pins_deselect();
}

/* A constant on a board with one controller, which spares a quarter of the work around the bytes.
 */
static inline uint8_t bus_of(const locum_frame *frame)
{
    return BOARD_CONTROLLER_COUNT == 1u ? 0u : frame->bus;
}

static inline uint8_t waiting_bit(uint8_t buffer)
{
    return buffer == 0u   ? MCP_STATUS_TXREQ_0
           : buffer == 1u ? MCP_STATUS_TXREQ_1
                          : MCP_STATUS_TXREQ_2;
}

static inline uint8_t request_to_send(uint8_t buffer)
{
    return buffer == 0u ? MCP_RTS_0 : buffer == 1u ? MCP_RTS_1 : MCP_RTS_2;
}

/* The rank nearest to the middle of from … to - 1 whose buffer is free, or NO_RANK. */
static uint8_t free_rank(uint8_t waiting, uint8_t from, uint8_t to)
{
    uint8_t above = (uint8_t)((uint8_t)(from + to) >> 1);
    uint8_t below = above;

    while (above < to || below > from) {
        if (above < to) {
            if (RANK_BUFFER(above) < BUFFERS && (waiting & waiting_bit(RANK_BUFFER(above))) == 0u) {
                return above;
            }
            above++;
        }
        if (below > from) {
            below--;
            if (RANK_BUFFER(below) < BUFFERS && (waiting & waiting_bit(RANK_BUFFER(below))) == 0u) {
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
        const buffer_state *buffer = &state->buffers[i];

        if ((waiting & waiting_bit(i)) == 0u) {
            continue;
        }
        if (buffer->order == order) {
            return NO_RANK;
        }
        if (buffer->order > order) {
            if (buffer->rank >= from) {
                from = (uint8_t)(buffer->rank + 1u);
            }
        } else if (buffer->rank < to) {
            to = buffer->rank;
        }
    }
    return free_rank(waiting, from, to);
}

static inline void load(controller_state *state, const locum_frame *frame, uint8_t rank,
                        uint32_t order)
{
    const uint8_t bus = bus_of(frame);
    const uint8_t number = RANK_BUFFER(rank);
    const uint8_t bit = waiting_bit(number);
    const uint8_t request = request_to_send(number);
    buffer_state *buffer = &state->buffers[number];
    uint8_t header[5];

    KEEP_ADDRESS(buffer);
    pins_select(bus);
    if (RANK_TXP(buffer->rank) == RANK_TXP(rank)) {
        spi_begin((uint8_t)MCP_LOAD_TX(number));
    } else {
        spi_write(MCP_WRITE);
        spi_write((uint8_t)MCP_TXBCTRL(number));
        spi_begin(RANK_TXP(rank));
    }
    /* The barrier keeps these ten stores, 20 cycles, in the time of the byte that was begun. */
    __asm__ volatile("" ::: "memory");
    header[0] = (uint8_t)(order >> 24);
    header[1] = (uint8_t)(order >> 16);
    header[2] = (uint8_t)(order >> 8);
    header[3] = (uint8_t)order;
    header[4] = frame->length;
    buffer->order = order;
    buffer->rank = rank;
    spi_write_all(header, sizeof header);
    if (frame->length != 0u) {
        spi_write_all(frame->data, frame->length);
    }
    pins_deselect();
    pins_select(bus);
    spi_begin(request);
    state->waiting |= bit;
    spi_pause();
    pins_deselect();
}

bool mcp2515_send(const locum_frame *frame)
{
    const uint8_t bus = bus_of(frame);
    controller_state *state = &controllers[bus];
    const uint32_t order = order_of(frame->id);
    uint8_t rank = FIRST_RANK;

    KEEP_ADDRESS(state);
    if (!state->answers) {
        return false;
    }
    if (state->waiting != 0u && pins_int_low(bus)) {
        read_status(state, bus);
    }
    if (state->waiting != 0u) {
        rank = find_rank(state, order);
        if (rank == NO_RANK) {
            return false;
        }
    }
    load(state, frame, rank, order);
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

void mcp2515_init(void)
{
    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT; bus++) {
        controllers[bus].answers = mcp2515_start(bus);
    }
}
