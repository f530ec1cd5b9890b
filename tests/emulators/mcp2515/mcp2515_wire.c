/* The bus side of the chip: which buffer is next, what was sent, what was heard. */
#include "mcp2515_chip.h"

#include "mcp2515_map.h"
#include "mcp2515_registers_model.h"

static bool matches(const mcp2515_chip *chip, unsigned filter, unsigned mask,
                    const uint8_t header[4], const locum_frame *frame)
{
    const uint8_t *want = &chip->reg[filter];
    const uint8_t *care = &chip->reg[mask];
    const bool extended = (header[1] & SIDL_IDE) != 0;
    /* For an 11-bit frame the extended part of a filter looks at two data bytes. */
    const uint8_t low[2] = {extended ? header[2] : frame->data[0],
                            extended ? header[3] : frame->data[1]};

    if (((want[1] ^ header[1]) & SIDL_IDE) != 0) {
        return false;
    }
    return ((want[0] ^ header[0]) & care[0]) == 0 &&
           ((want[1] ^ header[1]) & care[1] & (extended ? 0xE3 : 0xE0)) == 0 &&
           ((want[2] ^ low[0]) & care[2]) == 0 && ((want[3] ^ low[1]) & care[3]) == 0;
}

static bool accepts(const mcp2515_chip *chip, unsigned receiver, const uint8_t header[4],
                    const locum_frame *frame)
{
    static const uint8_t filters[2][4] = {{0x00, 0x04, 0x00, 0x04}, {0x08, 0x10, 0x14, 0x18}};
    const unsigned control = receiver == 0 ? R_RXB0CTRL : R_RXB1CTRL;

    if ((chip->reg[control] & RXM_ANY) == RXM_ANY) {
        return true;
    }
    for (unsigned i = 0; i < 4; i++) {
        if (matches(chip, filters[receiver][i], receiver == 0 ? R_RXM0 : R_RXM1, header, frame)) {
            return true;
        }
    }
    return false;
}

static void header_of(const locum_frame *frame, uint8_t header[4])
{
    const uint32_t id = frame->id & ~LOCUM_ID_EXTENDED;

    if ((frame->id & LOCUM_ID_EXTENDED) != 0) {
        header[0] = (uint8_t)(id >> 21);
        header[1] = (uint8_t)((id >> 13 & 0xE0) | SIDL_IDE | (id >> 16 & 3));
        header[2] = (uint8_t)(id >> 8);
        header[3] = (uint8_t)id;
    } else {
        header[0] = (uint8_t)(id >> 3);
        header[1] = (uint8_t)(id << 5);
        header[2] = 0;
        header[3] = 0;
    }
}

static bool store(mcp2515_chip *chip, unsigned receiver, const uint8_t header[4],
                  const locum_frame *frame, bool remote)
{
    const unsigned base = receiver == 0 ? R_RXB0CTRL : R_RXB1CTRL;
    const unsigned flag = receiver == 0 ? RX0IF : RX1IF;

    if ((chip->reg[R_CANINTF] & flag) != 0) {
        return false;
    }
    for (unsigned i = 0; i < 4; i++) {
        chip->reg[base + 1 + i] = header[i];
    }
    chip->reg[base] &= (uint8_t)~RXB_RTR;
    chip->reg[base + 5] = frame->length;
    if (remote) {
        const bool extended = (header[1] & SIDL_IDE) != 0;

        chip->reg[base] |= RXB_RTR;
        chip->reg[base + (extended ? 5 : 2)] |= extended ? DLC_RTR : SIDL_SRR;
    }
    for (unsigned i = 0; i < frame->length && !remote; i++) {
        chip->reg[base + 6 + i] = frame->data[i];
    }
    chip->reg[R_CANINTF] |= (uint8_t)flag;
    chip->received++;
    return true;
}

bool mcp2515_on_bus(const mcp2515_chip *chip)
{
    const unsigned mode = chip->reg[R_CANSTAT] & MODE_MASK;

    return (mode == MODE_NORMAL || mode == MODE_LISTEN_ONLY) && !mcp2515_is_off(chip);
}

bool mcp2515_is_off(const mcp2515_chip *chip)
{
    return (chip->reg[R_EFLG] & TXBO) != 0;
}

bool mcp2515_wants_to_join(const mcp2515_chip *chip)
{
    const unsigned mode = chip->reg[R_CANSTAT] & MODE_MASK;
    const unsigned wanted = chip->reg[R_CANCTRL] & MODE_MASK;

    return mode != wanted && mode == MODE_CONFIGURATION &&
           (wanted == MODE_NORMAL || wanted == MODE_LISTEN_ONLY);
}

void mcp2515_join(mcp2515_chip *chip)
{
    chip->reg[R_CANSTAT] = chip->reg[R_CANCTRL] & MODE_MASK;
}

/* Each limit that is crossed raises the error flag (data sheet, error interrupt). */
void mcp2515_count_errors(mcp2515_chip *chip, unsigned transmit_errors)
{
    const unsigned before = chip->reg[R_EFLG];
    unsigned states = before & (RX0OVR | RX1OVR);

    chip->transmit_errors = transmit_errors;
    chip->reg[R_TEC] = (uint8_t)transmit_errors;
    states |= transmit_errors >= 96 ? EWARN | TXWAR : 0;
    states |= transmit_errors > 127 ? TXEP : 0;
    states |= transmit_errors > 255 ? TXBO : 0;
    chip->reg[R_EFLG] = (uint8_t)states;
    if (states != before) {
        chip->reg[R_CANINTF] |= ERRIF;
    }
}

static void overrun(mcp2515_chip *chip, uint8_t flag)
{
    chip->reg[R_EFLG] |= flag;
    chip->reg[R_CANINTF] |= ERRIF;
    chip->overruns++;
}

void mcp2515_heard(mcp2515_chip *chip, const locum_frame *frame, bool remote)
{
    uint8_t header[4];

    if (!mcp2515_on_bus(chip)) {
        return;
    }
    header_of(frame, header);
    if (accepts(chip, 0, header, frame)) {
        if (!store(chip, 0, header, frame, remote) &&
            ((chip->reg[R_RXB0CTRL] & BUKT) == 0 || !store(chip, 1, header, frame, remote))) {
            overrun(chip, RX0OVR);
        }
    } else if (accepts(chip, 1, header, frame) && !store(chip, 1, header, frame, remote)) {
        overrun(chip, RX1OVR);
    }
}

int mcp2515_candidate(const mcp2515_chip *chip)
{
    int best = -1;

    if ((chip->reg[R_CANSTAT] & MODE_MASK) != MODE_NORMAL || mcp2515_is_off(chip)) {
        return -1;
    }
    for (int i = 0; i < MCP2515_BUFFERS; i++) {
        const unsigned control = chip->reg[R_TXB0CTRL + TXB_STEP * i];

        /* "the transmit buffer with the highest buffer number" among equals */
        if ((control & TXREQ) != 0 &&
            (best < 0 || (control & TXP) >= (chip->reg[R_TXB0CTRL + TXB_STEP * best] & TXP))) {
            best = i;
        }
    }
    return best;
}

void mcp2515_frame_in(const mcp2515_chip *chip, int buffer, locum_frame *frame)
{
    const uint8_t *reg = &chip->reg[R_TXB0CTRL + TXB_STEP * buffer];
    const uint32_t base = (uint32_t)reg[1] << 3 | reg[2] >> 5;

    frame->id = base;
    if ((reg[2] & SIDL_IDE) != 0) {
        frame->id = LOCUM_ID_EXTENDED | base << 18 | (uint32_t)(reg[2] & 3) << 16 |
                    (uint32_t)reg[3] << 8 | reg[4];
    }
    frame->length = (reg[5] & 0x0F) > MCP2515_BYTES ? MCP2515_BYTES : reg[5] & 0x0F;
    for (unsigned i = 0; i < MCP2515_BYTES; i++) {
        frame->data[i] = reg[6 + i];
    }
}

void mcp2515_sent(mcp2515_chip *chip, int buffer)
{
    chip->reg[R_TXB0CTRL + TXB_STEP * buffer] &= (uint8_t)~TXREQ;
    chip->reg[R_CANINTF] |= (uint8_t)(TX0IF << buffer);
    chip->on_wire = -1;
    registers_follow_mode(chip);
}
