#include "mcp2515_start.h"

#include "mcp2515.h"
#include "mcp2515_board.h"
#include "mcp2515_registers.h"

#include "locum_rom.h"

#define ATTEMPT_US 100u
#define RESET_ATTEMPTS 250u
#define NORMAL_ATTEMPTS 50u

/* CNF3, CNF2, CNF1 as they lie in the controller */
static const uint8_t bit_timing[BOARD_CONTROLLER_COUNT][3] LOCUM_ROM = {
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, cnf1, cnf2, cnf3) {cnf3, cnf2, cnf1},
    BOARD_CONTROLLERS(CONTROLLER)
#undef CONTROLLER
};

#if LOCUM_LISTENS
#define FILTER_BYTES 12u /* of three filters, which lie in a row */
#define MASK_BYTES 8u

static const uint8_t filters[BOARD_CONTROLLER_COUNT][2u * FILTER_BYTES + MASK_BYTES] LOCUM_ROM = {
    BOARD_FILTERS};
#endif

static void write_register(uint8_t controller, uint8_t address, uint8_t value)
{
    pins_select(controller);
    spi_write(MCP_WRITE);
    spi_write(address);
    spi_write(value);
    pins_deselect();
}

static uint8_t mode(uint8_t controller)
{
    uint8_t status;

    pins_select(controller);
    spi_write(MCP_READ);
    spi_write(MCP_CANSTAT);
    status = spi_read();
    pins_deselect();
    return status & MCP_MODE_MASK;
}

void mcp2515_reset(uint8_t controller)
{
    pins_select(controller);
    spi_write(MCP_RESET);
    pins_deselect();
}

/* Until the crystal swings the controller does not hear a reset, so it is repeated. */
static bool reset(uint8_t controller)
{
    for (uint8_t left = RESET_ATTEMPTS; left != 0u; left--) {
        mcp2515_reset(controller);
        MCP2515_PAUSE(ATTEMPT_US); /* more than 128 periods of the crystal */
        if (mode(controller) == MCP_MODE_CONFIGURATION) {
            return true;
        }
    }
    return false;
}

#if LOCUM_LISTENS
static void write_bytes(uint8_t controller, uint8_t address, const uint8_t *from, uint8_t count)
{
    pins_select(controller);
    spi_write(MCP_WRITE);
    spi_write(address);
    for (; count != 0u; count--) {
        spi_write(LOCUM_ROM_U8(*from++));
    }
    pins_deselect();
}

static void set_filters(uint8_t controller)
{
    const uint8_t *from = filters[controller];

    write_bytes(controller, MCP_RXF0SIDH, from, FILTER_BYTES);
    write_bytes(controller, MCP_RXF3SIDH, from + FILTER_BYTES, FILTER_BYTES);
    write_bytes(controller, MCP_RXM0SIDH, from + 2u * FILTER_BYTES, MASK_BYTES);
    write_register(controller, MCP_RXB0CTRL, MCP_RXB0CTRL_BUKT);
}
#else
/* Three filters or a mask. A frame must match in all bits, and this one is 29 bits long and last in
 * arbitration: nobody sends it. */
static void fill_with_ones(uint8_t controller, uint8_t address, uint8_t count)
{
    pins_select(controller);
    spi_write(MCP_WRITE);
    spi_write(address);
    for (; count != 0u; count--) {
        spi_write(0xFF);
    }
    pins_deselect();
}

static void set_filters(uint8_t controller)
{
    fill_with_ones(controller, MCP_RXF0SIDH, 12);
    fill_with_ones(controller, MCP_RXF3SIDH, 12);
    fill_with_ones(controller, MCP_RXM0SIDH, 8);
}
#endif

/* CANINTE. Lines that are shared ask for room only now and then. */
#if MCP2515_LINES_ARE_SHARED
#define INTERRUPTS                                                                                 \
    ((LOCUM_LISTENS ? MCP_INT_RX_ALL : 0u) | (LOCUM_GUARD_BUS_OFF ? MCP_INT_ERROR : 0u))
#else
#define INTERRUPTS MCP_INT_TX_ALL
#endif

static void write_settings(uint8_t controller)
{
    pins_select(controller);
    spi_write(MCP_WRITE);
    spi_write(MCP_CNF3);
    for (uint8_t i = 0; i < 3u; i++) {
        spi_write(LOCUM_ROM_U8(bit_timing[controller][i]));
    }
    spi_write(INTERRUPTS);
    spi_write(0); /* CANINTF */
    pins_deselect();
}

bool mcp2515_is_configured(uint8_t controller)
{
    bool is = true;

    pins_select(controller);
    spi_write(MCP_READ);
    spi_write(MCP_CNF3);
    for (uint8_t i = 0; i < 3u; i++) {
        is = spi_read() == LOCUM_ROM_U8(bit_timing[controller][i]) && is;
    }
    pins_deselect();
    pins_select(controller);
    spi_write(MCP_READ);
    spi_write(MCP_CANCTRL);
    is = (spi_read() & MCP_MODE_MASK) == MCP_MODE_NORMAL && is;
    pins_deselect();
    return is;
}

bool mcp2515_awaits_settings(uint8_t controller)
{
    return mode(controller) == MCP_MODE_CONFIGURATION;
}

void mcp2515_configure(uint8_t controller)
{
    set_filters(controller);
    write_settings(controller);
}

void mcp2515_join(uint8_t controller)
{
    /* No one-shot, no clock output. On a bus that is busy or shorted normal mode comes later by
     * itself; frames wait for it in the buffers. */
    write_register(controller, MCP_CANCTRL, MCP_MODE_NORMAL);
}

bool mcp2515_start(uint8_t controller)
{
    if (!reset(controller)) {
        return false;
    }
    mcp2515_configure(controller);
    mcp2515_join(controller);
    for (uint8_t left = NORMAL_ATTEMPTS; left != 0u && mode(controller) != MCP_MODE_NORMAL;
         left--) {
        MCP2515_PAUSE(ATTEMPT_US);
    }
    return true;
}
