#include "mcp2518fd_chip.h"

#include <stdio.h>
#include <string.h>

#define RATE_TOLERANCE 0.005
/* Common practice, no source: no vehicle bus samples outside this range. */
#define SAMPLE_FROM 50.0
#define SAMPLE_TO 90.0
#define RESET_NS 10000u /* assumed: the oscillator goes on */

enum {
    CON = 0x000,
    NBTCFG = 0x004,
    DBTCFG = 0x008,
    TDC = 0x00C,
    INT = 0x01C,
    TXREQ = 0x030,
    TREC = 0x034,
    TEFCON = 0x040,
    TEFSTA = 0x044,
    TEFUA = 0x048,
    TXQCON = 0x050,
    TXQSTA = 0x054,
    TXQUA = 0x058,
    FIFOCON1 = 0x05C,
    FIFOSTA1 = 0x060,
    FIFOUA1 = 0x064,
    FLTCON = 0x1D0,
    FLTOBJ = 0x1F0,
    RAM = 0x400,
    OSC = 0xE00
};

enum { I_RESET = 0x0, I_WRITE = 0x2, I_READ = 0x3 };
enum { MODE_FD = 0, MODE_CONFIGURATION = 4, MODE_CLASSIC = 6 };
enum { UINC = 1, TXREQ_BIT = 2, FRESET = 4 };
enum { RXIF = 1 << 1, TEFIF = 1 << 4, RXOVIF = 1 << 11, CERRIF = 1 << 13 };
enum { OBJ_IDE = 1 << 4, OBJ_RTR = 1 << 5, OBJ_BRS = 1 << 6, OBJ_FDF = 1 << 7, OBJ_ESI = 1 << 8 };

static const uint8_t lengths[16] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64};

static bool in_configuration(const mcp2518fd_chip *chip)
{
    return chip->mode == MODE_CONFIGURATION;
}

static void forget(mcp2518fd_chip *chip)
{
    memset(chip->slots, 0, sizeof chip->slots);
    chip->next = 0;
    chip->on_wire = -1;
    chip->events = 0;
    chip->first_event = 0;
    chip->received = 0;
    chip->first_received = 0;
    chip->overflowed = false;
    chip->transmit_errors = 0;
}

static void reset(mcp2518fd_chip *chip, uint64_t ready_at)
{
    const mcp2518fd_chip before = *chip;

    memset(chip, 0, sizeof *chip);
    memcpy(chip->ram, before.ram, sizeof chip->ram);
    chip->crystal_hz = before.crystal_hz;
    chip->selected = before.selected;
    chip->taken = before.taken;
    chip->now = before.now;
    chip->ready_at = ready_at;
    /* Reset values of the data sheet. */
    chip->con = 0x04180760u;
    chip->mode = MODE_CONFIGURATION;
    chip->nbtcfg = 0x003E0F0Fu;
    chip->dbtcfg = 0x000E0303u;
    chip->tdc = 0x00021000u;
    chip->tefcon = 0x00000400u;
    chip->txqcon = 0x00600080u;
    chip->fifocon1 = 0x00600000u;
    forget(chip);
}

void mcp2518fd_power_on(mcp2518fd_chip *chip, uint32_t crystal_hz, uint64_t from)
{
    memset(chip, 0, sizeof *chip);
    memset(chip->ram, 0xA5, sizeof chip->ram);
    chip->crystal_hz = crystal_hz;
    reset(chip, from);
}

/* ---- memory: events, queue, FIFO 1, in this order ---- */

static unsigned depth_of(uint32_t control)
{
    return (control >> 24 & 0x1Fu) + 1u;
}

static unsigned payload_of(uint32_t control)
{
    return lengths[8u + (control >> 29)];
}

#define EVENT_BYTES 8u

static unsigned queue_base(const mcp2518fd_chip *chip)
{
    return EVENT_BYTES * depth_of(chip->tefcon);
}

static unsigned queue_object(const mcp2518fd_chip *chip)
{
    return 8u + payload_of(chip->txqcon);
}

static unsigned receive_base(const mcp2518fd_chip *chip)
{
    return queue_base(chip) + depth_of(chip->txqcon) * queue_object(chip);
}

static unsigned receive_object(const mcp2518fd_chip *chip)
{
    return 8u + payload_of(chip->fifocon1);
}

static uint32_t load(const mcp2518fd_chip *chip, unsigned at)
{
    uint32_t word;

    memcpy(&word, &chip->ram[at % MCP2518FD_RAM], 4);
    return word;
}

static void store(mcp2518fd_chip *chip, unsigned at, uint32_t word)
{
    memcpy(&chip->ram[at % MCP2518FD_RAM], &word, 4);
}

static int free_slot(const mcp2518fd_chip *chip)
{
    for (unsigned i = 0; i < depth_of(chip->txqcon); i++) {
        if (!chip->slots[i].used) {
            return (int)i;
        }
    }
    return -1;
}

static uint32_t id_of(uint32_t object, bool extended)
{
    return extended ? LOCUM_ID_EXTENDED | (object & 0x7FFu) << 18 | (object >> 11 & 0x3FFFFu)
                    : object & 0x7FFu;
}

static void read_frame(mcp2518fd_chip *chip, unsigned slot)
{
    const unsigned at = queue_base(chip) + slot * queue_object(chip);
    const uint32_t flags = load(chip, at + 4u);
    locum_frame *frame = &chip->slots[slot].frame;

    memset(frame, 0, sizeof *frame);
    frame->id = id_of(load(chip, at), (flags & OBJ_IDE) != 0u);
    frame->length = lengths[flags & 0xFu];
    if ((flags & OBJ_FDF) != 0u) {
        frame->id |= LOCUM_ID_FD | ((flags & OBJ_BRS) != 0u ? LOCUM_ID_SWITCH_RATE : 0u);
        if (chip->mode != MODE_FD) {
            chip->complaint = "a CAN FD frame in classic mode";
        }
    } else if (frame->length > 8u) {
        frame->length = 8u;
    }
    if (frame->length > payload_of(chip->txqcon)) {
        chip->complaint = "a frame that is longer than its object";
    }
    if ((flags & OBJ_RTR) != 0u) {
        chip->complaint = "a remote frame";
    }
    if ((flags & OBJ_ESI) != 0u) {
        chip->complaint = "a frame that says its sender is error-passive";
    }
    memcpy(frame->data, &chip->ram[(at + 8u) % MCP2518FD_RAM], frame->length);
}

/* ---- registers ---- */

static bool any_asked(const mcp2518fd_chip *chip)
{
    for (unsigned i = 0; i < MCP2518FD_OBJECTS; i++) {
        if (chip->slots[i].asked) {
            return true;
        }
    }
    return false;
}

static uint32_t flags_of(const mcp2518fd_chip *chip)
{
    uint32_t flags = chip->interrupts & CERRIF;

    flags |= chip->received != 0u && (chip->fifocon1 & 1u) != 0u ? RXIF : 0u;
    flags |= chip->events != 0u && (chip->tefcon & 1u) != 0u ? TEFIF : 0u;
    flags |= chip->overflowed && (chip->fifocon1 & 8u) != 0u ? RXOVIF : 0u;
    return flags;
}

bool mcp2518fd_int_low(const mcp2518fd_chip *chip)
{
    return (flags_of(chip) & chip->interrupts >> 16) != 0u;
}

static uint32_t errors_of(const mcp2518fd_chip *chip)
{
    const unsigned errors = chip->transmit_errors;

    return (errors >= 256u ? 1u << 21 : 0u) | (errors >= 128u ? 1u << 20 : 0u) |
           (errors >= 96u ? 1u << 18 | 1u << 16 : 0u) | (errors & 0xFFu) << 8;
}

static uint32_t read_register(mcp2518fd_chip *chip, unsigned address)
{
    const int slot = chip->next;

    if (address >= FLTCON && address < FLTCON + MCP2518FD_FILTERS) {
        uint32_t word;

        memcpy(&word, &chip->fltcon[address - FLTCON], 4);
        return word;
    }
    switch (address) {
    case CON:
        return chip->con | chip->mode << 21;
    case NBTCFG:
        return chip->nbtcfg;
    case DBTCFG:
        return chip->dbtcfg;
    case TDC:
        return chip->tdc;
    case INT:
        return flags_of(chip) | (chip->interrupts & 0xFFFF0000u);
    case TXREQ:
        return any_asked(chip) ? 1u : 0u;
    case TREC:
        return errors_of(chip);
    case TEFCON:
        return chip->tefcon;
    case TEFSTA:
        return chip->events != 0u ? 1u : 0u;
    case TEFUA:
        return EVENT_BYTES * chip->first_event;
    case TXQCON:
        return chip->txqcon | (any_asked(chip) ? TXREQ_BIT << 8 : 0u);
    case TXQSTA:
        return slot >= 0 ? 1u : 0u;
    case TXQUA:
        return slot < 0 ? 0u : queue_base(chip) + (unsigned)slot * queue_object(chip);
    case FIFOCON1:
        return chip->fifocon1;
    case FIFOSTA1:
        return (chip->received != 0u ? 1u : 0u) | (chip->overflowed ? 8u : 0u);
    case FIFOUA1:
        return receive_base(chip) + chip->first_received * receive_object(chip);
    case OSC:
        return 0x00000460u;
    default:
        chip->complaint = "a register that is not modelled is read";
        return 0;
    }
}

static void queue_command(mcp2518fd_chip *chip, uint8_t command)
{
    const int slot = chip->next;

    if ((command & FRESET) != 0u) {
        if (any_asked(chip)) {
            chip->complaint = "the transmit queue is reset while it sends";
        }
        memset(chip->slots, 0, sizeof chip->slots);
        chip->next = 0;
        return;
    }
    if ((command & UINC) != 0u) {
        if (slot < 0 || in_configuration(chip)) {
            chip->complaint = "a frame for a queue that is full, or not on the bus";
            return;
        }
        chip->slots[slot].used = true;
        chip->slots[slot].waits = true;
        chip->slots[slot].asked_at = chip->now;
        read_frame(chip, (unsigned)slot);
        chip->next = free_slot(chip); /* stays until it is used, whatever becomes free */
    }
    for (unsigned i = 0; i < MCP2518FD_OBJECTS; i++) {
        mcp2518fd_slot *s = &chip->slots[i];

        if ((command & TXREQ_BIT) == 0u) {
            /* Aborted; one on the wire goes on. */
            s->waits = s->waits && (!s->asked || chip->on_wire == (int)i);
            s->asked = s->asked && chip->on_wire == (int)i;
        } else if (s->waits) {
            s->asked = true;
        }
    }
}

static void set_byte(uint32_t *word, unsigned byte, uint8_t value)
{
    *word = (*word & ~(0xFFu << 8u * byte)) | (uint32_t)value << 8u * byte;
}

static void enter(mcp2518fd_chip *chip)
{
    const unsigned wanted = chip->con >> 24 & 7u;

    if (wanted == MODE_CONFIGURATION && !in_configuration(chip)) {
        chip->mode = MODE_CONFIGURATION;
        forget(chip);
    } else if (wanted != MODE_FD && wanted != MODE_CLASSIC && wanted != MODE_CONFIGURATION) {
        chip->complaint = "a mode that is not modelled";
    }
}

static void write_filter(mcp2518fd_chip *chip, unsigned offset, uint8_t value)
{
    const unsigned number = offset / 8u;

    if ((chip->fltcon[number] & 0x80u) != 0u) {
        chip->complaint = "a filter is changed while it is on";
    }
    set_byte(offset % 8u < 4u ? &chip->fltobj[number] : &chip->fltmask[number], offset % 4u, value);
}

/* Registers that only configuration mode lets change. */
static void configure(mcp2518fd_chip *chip, uint32_t *word, unsigned byte, uint8_t value)
{
    if (!in_configuration(chip)) {
        chip->complaint = "a register is written outside configuration mode";
        return;
    }
    set_byte(word, byte, value);
}

static void write_register(mcp2518fd_chip *chip, unsigned address, uint8_t value)
{
    const unsigned byte = address % 4u;

    if (address >= FLTCON && address < FLTCON + MCP2518FD_FILTERS) {
        if ((value & 0x80u) != 0u && (value & 0x1Fu) != 1u) {
            chip->complaint = "a filter for a FIFO that is not modelled";
        }
        chip->fltcon[address - FLTCON] = value;
        return;
    }
    if (address >= FLTOBJ && address < FLTOBJ + 8u * MCP2518FD_FILTERS) {
        write_filter(chip, address - FLTOBJ, value);
        return;
    }
    switch (address - byte) {
    case CON:
        set_byte(&chip->con, byte, byte == 2u ? value & 0x1Fu : value);
        if (byte == 3u) {
            enter(chip);
        }
        break;
    case NBTCFG:
        configure(chip, &chip->nbtcfg, byte, value);
        break;
    case DBTCFG:
        configure(chip, &chip->dbtcfg, byte, value);
        break;
    case TDC:
        configure(chip, &chip->tdc, byte, value);
        break;
    case INT:
        if (byte >= 2u) {
            set_byte(&chip->interrupts, byte, value);
        } else {
            chip->interrupts &= 0xFFFF0000u | (byte == 1u ? (uint32_t)value << 8 | 0xFFu
                                                          : (uint32_t)value | 0xFF00u);
        }
        break;
    case TEFCON:
        if (byte == 1u) {
            if ((value & UINC) != 0u && chip->events != 0u) {
                chip->events--;
                chip->first_event = (chip->first_event + 1u) % depth_of(chip->tefcon);
            }
        } else {
            configure(chip, &chip->tefcon, byte, value);
        }
        break;
    case TXQCON:
        if (byte != 1u) {
            configure(chip, &chip->txqcon, byte, value);
        } else if (!in_configuration(chip)) {
            queue_command(chip, value);
        }
        break;
    case FIFOCON1:
        if (byte == 1u) {
            if ((value & UINC) != 0u && chip->received != 0u) {
                chip->received--;
                chip->first_received = (chip->first_received + 1u) % depth_of(chip->fifocon1);
            }
        } else {
            configure(chip, &chip->fifocon1, byte, value);
            if ((chip->fifocon1 & 0x80u) != 0u) {
                chip->complaint = "FIFO 1 as a transmitter is not modelled";
            }
        }
        break;
    case FIFOSTA1:
        chip->overflowed = chip->overflowed && (byte != 0u || (value & 8u) != 0u);
        break;
    default:
        chip->complaint = "a register that is not modelled is written";
        break;
    }
}

/* ---- SPI ---- */

uint8_t mcp2518fd_exchange(mcp2518fd_chip *chip, uint8_t in, uint64_t now)
{
    uint8_t out = 0xFF;

    if (!chip->selected || now < chip->ready_at) {
        return 0xFF;
    }
    chip->now = now;
    if (chip->taken == 0u) {
        chip->instruction = in >> 4;
        chip->address = (unsigned)(in & 0xFu) << 8;
    } else if (chip->taken == 1u) {
        chip->address |= in;
        if (chip->instruction == I_RESET && chip->address == 0u) {
            reset(chip, now + RESET_NS);
        }
    } else if (chip->instruction == I_READ) {
        out =
            chip->address >= RAM && chip->address < RAM + MCP2518FD_RAM
                ? chip->ram[chip->address - RAM]
                : (uint8_t)(read_register(chip, chip->address & ~3u) >> 8u * (chip->address % 4u));
        chip->address = (chip->address + 1u) & 0xFFFu;
    } else if (chip->instruction == I_WRITE) {
        if (chip->address >= RAM && chip->address < RAM + MCP2518FD_RAM) {
            chip->ram[chip->address - RAM] = in;
        } else {
            write_register(chip, chip->address, in);
        }
        chip->address = (chip->address + 1u) & 0xFFFu;
    } else {
        chip->complaint = "an SPI instruction that is not modelled";
    }
    chip->taken++;
    return out;
}

void mcp2518fd_select(mcp2518fd_chip *chip, bool selected, uint64_t now)
{
    chip->now = now;
    /* "RAM: multiples of four bytes" */
    if (chip->selected && !selected && chip->instruction == I_WRITE && chip->taken > 2u &&
        chip->address > RAM && chip->address <= RAM + MCP2518FD_RAM && chip->address % 4u != 0u) {
        chip->complaint = "a part of a word is written to memory";
    }
    chip->selected = selected;
    chip->taken = 0;
}

/* ---- as the bus sees it ---- */

/* As the wire sees an identifier: base, then RTR or SRR, IDE, then the extension. */
static uint32_t order_of(uint32_t id)
{
    const uint32_t bits = id & 0x1FFFFFFFu;

    return (id & LOCUM_ID_EXTENDED) == 0u ? bits << 20
                                          : (bits >> 18) << 20 | 3u << 18 | (bits & 0x3FFFFu);
}

int mcp2518fd_candidate(const mcp2518fd_chip *chip)
{
    int best = -1;

    for (int i = 0; i < (int)MCP2518FD_OBJECTS && mcp2518fd_on_bus(chip); i++) {
        if (chip->slots[i].asked && (best < 0 || order_of(chip->slots[i].frame.id) <
                                                     order_of(chip->slots[best].frame.id))) {
            best = i;
        }
    }
    return best;
}

void mcp2518fd_sent(mcp2518fd_chip *chip, int slot)
{
    const unsigned from = queue_base(chip) + (unsigned)slot * queue_object(chip);
    const unsigned to = EVENT_BYTES * ((chip->first_event + chip->events) % depth_of(chip->tefcon));

    chip->slots[slot].used = false;
    chip->slots[slot].waits = false;
    chip->slots[slot].asked = false;
    chip->next = chip->next < 0 ? slot : chip->next;
    chip->on_wire = -1;
    if ((chip->con & 1u << 19) == 0u) {
        return;
    }
    if (chip->events == depth_of(chip->tefcon)) {
        chip->complaint = "the event FIFO overflows";
        return;
    }
    store(chip, to, load(chip, from));
    store(chip, to + 4u, load(chip, from + 4u));
    chip->events++;
}

static uint32_t object_of(uint32_t id)
{
    const uint32_t bits = id & 0x1FFFFFFFu;

    return (id & LOCUM_ID_EXTENDED) == 0u ? bits : bits >> 18 | (bits & 0x3FFFFu) << 11;
}

static bool accepts(const mcp2518fd_chip *chip, const locum_frame *frame)
{
    const bool extended = (frame->id & LOCUM_ID_EXTENDED) != 0u;
    const uint32_t object = object_of(frame->id);

    for (unsigned i = 0; i < MCP2518FD_FILTERS; i++) {
        const uint32_t mask = chip->fltmask[i];
        const uint32_t care = mask & (extended ? 0x1FFFFFFFu : 0x7FFu);

        if ((chip->fltcon[i] & 0x80u) == 0u) {
            continue;
        }
        /* MIDE: only frames of EXIDE's kind. */
        if ((mask & 1u << 30) != 0u && ((chip->fltobj[i] & 1u << 30) != 0u) != extended) {
            continue;
        }
        if (((chip->fltobj[i] ^ object) & care) == 0u) {
            return true;
        }
    }
    return false;
}

static uint32_t code_of(unsigned length)
{
    uint32_t code = 0;

    while (lengths[code] < length) {
        code++;
    }
    return code;
}

void mcp2518fd_heard(mcp2518fd_chip *chip, const locum_frame *frame)
{
    unsigned at;

    if (!accepts(chip, frame)) {
        return;
    }
    if (chip->received == depth_of(chip->fifocon1)) {
        chip->overflowed = true;
        return;
    }
    if (receive_base(chip) + depth_of(chip->fifocon1) * receive_object(chip) > MCP2518FD_RAM) {
        chip->complaint = "the objects do not fit the memory";
    }
    at = receive_base(chip) +
         (chip->first_received + chip->received) % depth_of(chip->fifocon1) * receive_object(chip);
    store(chip, at, object_of(frame->id));
    store(chip, at + 4u,
          code_of(frame->length) | ((frame->id & LOCUM_ID_EXTENDED) != 0u ? OBJ_IDE : 0u) |
              ((frame->id & LOCUM_ID_FD) != 0u ? OBJ_FDF : 0u) |
              ((frame->id & LOCUM_ID_SWITCH_RATE) != 0u ? OBJ_BRS : 0u));
    memcpy(&chip->ram[at + 8u], frame->data, frame->length);
    chip->received++;
}

bool mcp2518fd_on_bus(const mcp2518fd_chip *chip)
{
    return !in_configuration(chip) && !mcp2518fd_is_off(chip);
}

bool mcp2518fd_is_off(const mcp2518fd_chip *chip)
{
    return chip->transmit_errors >= 256u;
}

bool mcp2518fd_wants_to_join(const mcp2518fd_chip *chip)
{
    return in_configuration(chip) && (chip->con >> 24 & 7u) != MODE_CONFIGURATION;
}

void mcp2518fd_join(mcp2518fd_chip *chip)
{
    chip->mode = chip->con >> 24 & 7u;
}

static unsigned error_state(unsigned errors)
{
    return errors >= 256u ? 3u : errors >= 128u ? 2u : errors >= 96u ? 1u : 0u;
}

void mcp2518fd_count_errors(mcp2518fd_chip *chip, unsigned transmit_errors)
{
    if (error_state(chip->transmit_errors) != error_state(transmit_errors)) {
        chip->interrupts |= CERRIF;
    }
    chip->transmit_errors = transmit_errors;
}

/* ---- bit timing ---- */

typedef struct {
    double rate;
    double sample_point;
    unsigned jump;
    unsigned phase2;
} timing;

static timing timing_of(uint32_t word, uint32_t clock_hz)
{
    const unsigned before = 1u + (word >> 16 & 0xFFu) + 1u;
    const unsigned phase2 = (word >> 8 & 0x7Fu) + 1u;

    return (timing){(double)clock_hz / ((word >> 24) + 1u) / (before + phase2),
                    100.0 * before / (before + phase2), (word & 0x7Fu) + 1u, phase2};
}

static bool phase_fits(timing made, uint32_t rate, const char *phase, char *reason, unsigned size)
{
    const double off = made.rate / rate - 1.0;

    if (off > RATE_TOLERANCE || off < -RATE_TOLERANCE) {
        snprintf(reason, size, "%sbit rate %.0f is not %u", phase, made.rate, (unsigned)rate);
    } else if (made.sample_point < SAMPLE_FROM || made.sample_point > SAMPLE_TO) {
        snprintf(reason, size, "%ssample point %.1f %% is not sane", phase, made.sample_point);
    } else if (made.jump > made.phase2) {
        snprintf(reason, size, "%sjump width is longer than the second phase", phase);
    } else {
        return true;
    }
    return false;
}

bool mcp2518fd_fits(const mcp2518fd_chip *chip, uint32_t rate, uint32_t data_rate, char *reason,
                    unsigned size)
{
    const unsigned offset = chip->tdc >> 8 & 0x7Fu;
    const double bit = (double)chip->crystal_hz / data_rate;

    if (!phase_fits(timing_of(chip->nbtcfg, chip->crystal_hz), rate, "", reason, size)) {
        return false;
    }
    if (data_rate == rate) {
        return true;
    }
    if (chip->mode == MODE_CLASSIC) {
        snprintf(reason, size, "a classic controller on a bus with CAN FD");
        return false;
    }
    if (!phase_fits(timing_of(chip->dbtcfg, chip->crystal_hz), data_rate, "data ", reason, size)) {
        return false;
    }
    /* Above 1 Mbit/s a transmitter has to compensate the loop's delay. */
    if (data_rate > 1000000u &&
        ((chip->tdc >> 16 & 3u) != 2u || offset < 0.3 * bit || offset > bit)) {
        snprintf(reason, size, "delay compensation is off, or its offset outside the bit");
        return false;
    }
    return true;
}
