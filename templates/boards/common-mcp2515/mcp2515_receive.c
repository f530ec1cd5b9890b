#include "mcp2515_receive.h"

#if LOCUM_LISTENS
#include "mcp2515.h"
#include "mcp2515_board.h"
#include "mcp2515_registers.h"

#define MOST_AT_ONCE (2u * BOARD_CONTROLLER_COUNT)

static bool rolled_over[BOARD_CONTROLLER_COUNT]; /* RXB1 is older than what RXB0 may hold */
static uint16_t overruns;

static uint8_t full_buffers(uint8_t bus)
{
    uint8_t full = 0;

    if (mcp2515_answers(bus) && pins_int_low(bus)) {
        pins_select(bus);
        spi_write(MCP_READ_STATUS);
        full = spi_read() & (MCP_STATUS_RX0IF | MCP_STATUS_RX1IF);
        pins_deselect();
    }
    return full;
}

/* Overruns happen only while RXB1 is full, so the look behind each reading of it finds them all. */
static void look_for_overrun(uint8_t bus)
{
    uint8_t flags;

    pins_select(bus);
    spi_write(MCP_READ);
    spi_write(MCP_EFLG);
    flags = spi_read();
    pins_deselect();
    if ((flags & MCP_EFLG_RXOVR) == 0u) {
        return;
    }
    pins_select(bus);
    spi_write(MCP_BIT_MODIFY);
    spi_write(MCP_EFLG);
    spi_write(MCP_EFLG_RXOVR);
    spi_write(0);
    pins_deselect();
    if (overruns != 0xFFFFu) {
        overruns++;
    }
}

/* The identifier from SIDH with SIDL, and EID8 with EID0. */
static uint32_t id_of(uint16_t high, uint16_t low)
{
    if ((high & MCP_SIDL_EXIDE) == 0u) {
        return high >> 5;
    }
    high = (uint16_t)(((high >> 3) & 0x1FFCu) | (high & 3u));
    return LOCUM_ID_EXTENDED | (uint32_t)high << 16 | low;
}

/* Empties a buffer; the end of the instruction clears its flag. False for a remote frame. */
static bool read_buffer(uint8_t bus, uint8_t buffer, locum_frame *frame)
{
    uint8_t high[2];
    uint8_t low[2];
    uint8_t length;
    bool remote;

    pins_select(bus);
    spi_write((uint8_t)MCP_READ_RX(buffer));
    high[0] = spi_read();
    high[1] = spi_read();
    low[0] = spi_read();
    low[1] = spi_read();
    length = spi_read();
    remote = (high[1] & MCP_SIDL_EXIDE) != 0u ? (length & MCP_DLC_RTR) != 0u
                                              : (high[1] & MCP_SIDL_SRR) != 0u;
    length &= MCP_DLC_MASK;
    frame->length = length > 8u ? 8u : length;
    if (!remote) {
        for (uint8_t i = 0; i < frame->length; i++) {
            frame->data[i] = spi_read();
        }
    }
    pins_deselect();
    frame->bus = bus;
    frame->id = id_of((uint16_t)((uint16_t)high[0] << 8 | high[1]),
                      (uint16_t)((uint16_t)low[0] << 8 | low[1]));
    return !remote;
}

/* Reads the older of the full buffers. */
static bool read_older(uint8_t bus, uint8_t full, locum_frame *frame)
{
    const uint8_t buffer =
        (full & MCP_STATUS_RX0IF) == 0u || (rolled_over[bus] && (full & MCP_STATUS_RX1IF) != 0u);
    const bool good = read_buffer(bus, buffer, frame);

    if (buffer == 0u) {
        /* What is in RXB1 now came before anything that RXB0 gets from now on. */
        rolled_over[bus] = (full_buffers(bus) & MCP_STATUS_RX1IF) != 0u;
    } else {
        rolled_over[bus] = false;
        look_for_overrun(bus);
    }
    return good;
}

bool mcp2515_receive(locum_frame *frame)
{
    static uint8_t turn; /* the controller that is asked next */
    static uint8_t left = MOST_AT_ONCE;

    for (uint8_t asked = 0; asked < BOARD_CONTROLLER_COUNT; asked++) {
        const uint8_t bus = turn;

        turn = (uint8_t)(bus + 1u < BOARD_CONTROLLER_COUNT ? bus + 1u : 0u);
        while (left != 0u) {
            const uint8_t full = full_buffers(bus);

            if (full == 0u) {
                break;
            }
            left--;
            if (read_older(bus, full, frame)) {
                return true;
            }
        }
    }
    left = MOST_AT_ONCE;
    return false;
}

uint16_t mcp2515_overruns(void)
{
    return overruns;
}
#endif
