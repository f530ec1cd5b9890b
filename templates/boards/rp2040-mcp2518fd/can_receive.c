/* Reception through FIFO 1 of each controller, in the order in which the frames left the bus. */
#include "mcp2518fd.h"

#if LOCUM_LISTENS

#include <string.h>

#if LOCUM_MAX_LENGTH < 8u
#error "A received classic frame may hold 8 bytes."
#endif

#define HEADER_WORDS 2u
/* So many frames of a controller at once: a flood must not keep the scheduler from its work. */
#define MOST_AT_ONCE 8u

static const uint8_t lengths[16] = {0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64};

volatile uint32_t can_overruns;

static uint32_t shorter(uint32_t a, uint32_t b)
{
    return a < b ? a : b;
}

static uint32_t id_of(const uint32_t object[HEADER_WORDS])
{
    const uint32_t base = object[0] & 0x7FFu;

    if ((object[1] & MCP_OBJ_IDE) == 0u) {
        return base;
    }
    return LOCUM_ID_EXTENDED | base << 18 | (object[0] >> MCP_OBJ_EID_SHIFT & 0x3FFFFu);
}

/* Reads an object and lets the controller use its place again. False for a remote frame. */
static bool take(uint8_t bus, uint32_t address, locum_frame *frame)
{
    uint32_t words[HEADER_WORDS];
    uint32_t most;
    uint32_t length;

    link_read(bus, MCP_RAM + address, words, HEADER_WORDS);
    /* Classic frames have up to 8 bytes whatever their code says. */
    most = (words[1] & MCP_OBJ_FDF) != 0u ? LOCUM_MAX_LENGTH : 8u;
    length = shorter(lengths[words[1] & MCP_OBJ_DLC], most);
    *frame = (locum_frame){.id = id_of(words), .bus = bus, .length = (uint8_t)length};
    for (uint32_t at = 0; at < length; at += 4u) {
        const uint32_t word = link_read_word(bus, MCP_RAM + address + 4u * HEADER_WORDS + at);

        memcpy(&frame->data[at], &word, shorter(length - at, sizeof word));
    }
    link_write_byte(bus, MCP_FIFOCON1 + 1u, MCP_UINC);
    return (words[1] & MCP_OBJ_RTR) == 0u;
}

static bool receive(uint8_t bus, locum_frame *frame)
{
    uint32_t status[2];

    if (!can_answers(bus) || !pins_int_low(bus)) {
        return false;
    }
    link_read(bus, MCP_FIFOSTA1, status, 2);
    if (status[1] >= MCP_RAM_BYTES) {
        return false; /* nothing sensible answered */
    }
    if ((status[0] & MCP_STA_RXOVIF) != 0u) {
        link_write_byte(bus, MCP_FIFOSTA1, (uint8_t)~MCP_STA_RXOVIF);
        can_overruns++;
    }
    return (status[0] & MCP_STA_READY) != 0u && take(bus, status[1], frame);
}

bool can_receive(locum_frame *frame)
{
    static uint32_t left = MOST_AT_ONCE;

    for (uint8_t bus = 0; bus < BOARD_CONTROLLER_COUNT && left != 0u; bus++) {
        if (receive(bus, frame)) {
            left--;
            return true;
        }
    }
    left = MOST_AT_ONCE;
    return false;
}

#endif
