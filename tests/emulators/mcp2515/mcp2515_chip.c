#include "mcp2515_chip.h"

#include <string.h>

#include "mcp2515_map.h"
#include "mcp2515_registers_model.h"

#define START_UP_CLOCKS 128u

enum {
    I_WRITE = 0x02,
    I_READ = 0x03,
    I_BIT_MODIFY = 0x05,
    I_LOAD_TX = 0x40,
    I_RTS = 0x80,
    I_READ_RX = 0x90,
    I_READ_STATUS = 0xA0,
    I_RX_STATUS = 0xB0,
    I_RESET = 0xC0
};

static void reset(mcp2515_chip *chip, uint64_t from)
{
    memset(chip->reg, 0, sizeof chip->reg);
    chip->reg[R_CANCTRL] = 0x87;
    chip->reg[R_CANSTAT] = MODE_CONFIGURATION;
    chip->on_wire = -1;
    chip->transmit_errors = 0;
    chip->ready_at = from + START_UP_CLOCKS * 1000000000ull / chip->crystal_hz;
}

void mcp2515_power_on(mcp2515_chip *chip, uint32_t crystal_hz, uint64_t start_ns)
{
    memset(chip, 0, sizeof *chip);
    chip->crystal_hz = crystal_hz;
    reset(chip, start_ns);
}

static uint8_t read_status(const mcp2515_chip *chip)
{
    const unsigned flags = chip->reg[R_CANINTF];
    unsigned status = flags & (RX0IF | RX1IF);

    for (unsigned i = 0; i < MCP2515_BUFFERS; i++) {
        if ((chip->reg[R_TXB0CTRL + TXB_STEP * i] & TXREQ) != 0) {
            status |= 4u << (2u * i);
        }
        if ((flags & ((unsigned)TX0IF << i)) != 0) {
            status |= 8u << (2u * i);
        }
    }
    return (uint8_t)status;
}

/* Which receive buffers hold a frame, and what kind the first of them is. */
static uint8_t rx_status(const mcp2515_chip *chip)
{
    const unsigned full = chip->reg[R_CANINTF] & (RX0IF | RX1IF);
    const unsigned base = (full & RX0IF) != 0 ? R_RXB0CTRL : R_RXB1CTRL;

    return (uint8_t)(full << 6 | (chip->reg[base + 2u] & SIDL_IDE) << 1);
}

static uint8_t begin(mcp2515_chip *chip, uint8_t in, uint64_t now)
{
    chip->instruction = in;
    if (in == I_RESET) {
        reset(chip, now);
    } else if ((in & 0xF8) == I_LOAD_TX) {
        static const uint8_t starts[] = {0x31, 0x36, 0x41, 0x46, 0x51, 0x56};

        chip->address = starts[(in & 7u) % sizeof starts];
    } else if ((in & 0xF9) == I_READ_RX) {
        static const uint8_t starts[] = {0x61, 0x66, 0x71, 0x76};

        chip->address = starts[(in >> 1) & 3u];
    }
    return 0xFF;
}

static void advance(mcp2515_chip *chip)
{
    chip->address = (uint8_t)((chip->address + 1u) & 0x7Fu);
}

static uint8_t go_on(mcp2515_chip *chip, uint8_t in, uint64_t now)
{
    const unsigned instruction = chip->instruction;
    uint8_t out = 0xFF;

    if (instruction == I_READ_STATUS) {
        return read_status(chip);
    }
    if (instruction == I_RX_STATUS) {
        return rx_status(chip);
    }
    if ((instruction & 0xF8) == I_LOAD_TX) {
        registers_write(chip, chip->address, in, now);
        advance(chip);
    } else if ((instruction & 0xF9) == I_READ_RX) {
        out = registers_read(chip, chip->address);
        advance(chip);
    } else if (chip->taken == 1) {
        chip->address = in & 0x7Fu;
    } else if (instruction == I_READ) {
        out = registers_read(chip, chip->address);
        advance(chip);
    } else if (instruction == I_WRITE) {
        registers_write(chip, chip->address, in, now);
        advance(chip);
    } else if (instruction == I_BIT_MODIFY && chip->taken == 2) {
        chip->mask = registers_bit_modifiable(chip->address) ? in : 0xFF;
    } else if (instruction == I_BIT_MODIFY && chip->taken == 3) {
        const unsigned old = registers_read(chip, chip->address);

        registers_write(chip, chip->address,
                        (uint8_t)((old & ~(unsigned)chip->mask) | (in & chip->mask)), now);
    }
    return out;
}

uint8_t mcp2515_exchange(mcp2515_chip *chip, uint8_t in, uint64_t now)
{
    uint8_t out;

    if (!chip->selected || now < chip->ready_at) {
        return 0xFF;
    }
    out = chip->taken == 0 ? begin(chip, in, now) : go_on(chip, in, now);
    chip->taken++;
    return out;
}

void mcp2515_select(mcp2515_chip *chip, bool selected, uint64_t now)
{
    if (chip->selected && !selected && chip->taken != 0) {
        if ((chip->instruction & 0xF8) == I_RTS) {
            for (unsigned i = 0; i < MCP2515_BUFFERS; i++) {
                if ((chip->instruction >> i & 1u) != 0) {
                    registers_request(chip, i, now);
                }
            }
        } else if ((chip->instruction & 0xF9) == I_READ_RX) {
            chip->reg[R_CANINTF] &= (uint8_t) ~((chip->instruction & 4u) != 0 ? RX1IF : RX0IF);
        }
    }
    chip->selected = selected;
    chip->taken = 0;
}

bool mcp2515_int_low(const mcp2515_chip *chip)
{
    return (chip->reg[R_CANINTE] & chip->reg[R_CANINTF]) != 0;
}
