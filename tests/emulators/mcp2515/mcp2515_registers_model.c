#include "mcp2515_registers_model.h"

#include "mcp2515_map.h"

/* CANSTAT and CANCTRL appear in every row of sixteen. */
static uint8_t fold(uint8_t address)
{
    const uint8_t column = address & 0x0Fu;

    return column >= R_CANSTAT ? column : address;
}

static bool in_configuration(const mcp2515_chip *chip)
{
    return (chip->reg[R_CANSTAT] & MODE_MASK) == MODE_CONFIGURATION;
}

static bool is_filter_or_mask(uint8_t address)
{
    return address < 0x0C || (address >= 0x10 && address < 0x1C) ||
           (address >= R_RXM0 && address < R_CNF3);
}

static bool only_in_configuration(uint8_t address)
{
    return is_filter_or_mask(address) || address == R_TXRTSCTRL ||
           (address >= R_CNF3 && address <= R_CNF1);
}

uint8_t registers_read(const mcp2515_chip *chip, uint8_t address)
{
    return chip->reg[fold(address)];
}

bool registers_bit_modifiable(uint8_t address)
{
    switch (fold(address)) {
    case 0x0C:
    case R_TXRTSCTRL:
    case R_CANCTRL:
    case R_CNF3:
    case R_CNF2:
    case R_CNF1:
    case R_CANINTE:
    case R_CANINTF:
    case R_EFLG:
    case R_TXB0CTRL:
    case R_TXB0CTRL + TXB_STEP:
    case R_TXB0CTRL + 2 * TXB_STEP:
    case R_RXB0CTRL:
    case R_RXB1CTRL:
        return true;
    default:
        return false;
    }
}

void registers_request(mcp2515_chip *chip, unsigned buffer, uint64_t now)
{
    uint8_t *control = &chip->reg[R_TXB0CTRL + TXB_STEP * buffer];

    if ((*control & TXREQ) == 0) {
        *control = (uint8_t)((*control & TXP) | TXREQ); /* clears ABTF, MLOA, TXERR */
        chip->requested_at[buffer] = now;
    }
}

static void write_transmit(mcp2515_chip *chip, uint8_t address, uint8_t value, uint64_t now)
{
    const unsigned buffer = (unsigned)(address - R_TXB0CTRL) / TXB_STEP;
    uint8_t *control = &chip->reg[R_TXB0CTRL + TXB_STEP * buffer];

    /* While it waits it may only be taken back. */
    if ((*control & TXREQ) != 0 && (&chip->reg[address] != control || (value & TXREQ) != 0)) {
        chip->complaint = "transmit buffer written while it waits";
    }
    if (&chip->reg[address] != control) {
        if ((*control & TXREQ) == 0) {
            chip->reg[address] = value;
        }
        return;
    }
    *control = (uint8_t)((*control & ~TXP) | (value & TXP));
    if ((value & TXREQ) != 0) {
        registers_request(chip, buffer, now);
    } else if (chip->on_wire != (int)buffer) {
        *control &= (uint8_t)~TXREQ; /* a frame on the wire goes on */
    }
}

/* "The flag can not be reset by the MCU until the interrupt condition is removed." */
static void write_flags(mcp2515_chip *chip, uint8_t value)
{
    const uint8_t stays = chip->reg[R_EFLG] != 0 ? chip->reg[R_CANINTF] & ERRIF : 0;

    chip->reg[R_CANINTF] = value | stays;
}

static void write_control(mcp2515_chip *chip, uint8_t value)
{
    if ((value & ABAT) != 0) {
        chip->complaint = "all buffers aborted at once, which is not modelled";
    }
    chip->reg[R_CANCTRL] = value;
    registers_follow_mode(chip);
}

static bool waits(const mcp2515_chip *chip)
{
    for (unsigned i = 0; i < MCP2515_BUFFERS; i++) {
        if ((chip->reg[R_TXB0CTRL + TXB_STEP * i] & TXREQ) != 0) {
            return true;
        }
    }
    return false;
}

void registers_follow_mode(mcp2515_chip *chip)
{
    const unsigned wanted = chip->reg[R_CANCTRL] & MODE_MASK;

    if (mcp2515_wants_to_join(chip) || wanted == (chip->reg[R_CANSTAT] & MODE_MASK) ||
        (!in_configuration(chip) && waits(chip))) {
        return;
    }
    chip->reg[R_CANSTAT] = (uint8_t)wanted;
    if (wanted == MODE_CONFIGURATION) {
        mcp2515_count_errors(chip, 0); /* from memory */
    }
}

static void write_masked(mcp2515_chip *chip, uint8_t address, uint8_t value, uint8_t mask)
{
    chip->reg[address] = (uint8_t)((chip->reg[address] & ~mask) | (value & mask));
}

void registers_write(mcp2515_chip *chip, uint8_t address, uint8_t value, uint64_t now)
{
    address = fold(address);
    if (only_in_configuration(address)) {
        if (in_configuration(chip)) {
            chip->reg[address] = value;
        } else {
            chip->complaint = "register written outside configuration mode";
        }
    } else if (address >= R_TXB0CTRL && address < R_RXB0CTRL) {
        write_transmit(chip, address, value, now);
    } else if (address == R_CANCTRL) {
        write_control(chip, value);
    } else if (address == R_RXB0CTRL) {
        write_masked(chip, address, value, RXM_ANY | BUKT);
    } else if (address == R_RXB1CTRL) {
        write_masked(chip, address, value, RXM_ANY);
    } else if (address == R_EFLG) {
        write_masked(chip, address, value, RX0OVR | RX1OVR);
    } else if (address == R_CANINTF) {
        write_flags(chip, value);
    } else if (address == R_CANINTE || address == 0x0C) {
        chip->reg[address] = value;
    }
}
