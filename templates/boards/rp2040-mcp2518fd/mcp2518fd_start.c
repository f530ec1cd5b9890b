#include "mcp2518fd.h"

#define ATTEMPT_US 100u
#define RESET_ATTEMPTS 250u
#define JOIN_ATTEMPTS 50u
/* On a bus that is idle a controller takes part after 11 bits; that many looks take longer. */
#define JOIN_LOOKS 12u

/* Of 2 KiB: 4 events, 3 frames to send and 16 received ones of up to 64 bytes. */
#define EVENTS 4u
#define SEND_OBJECTS 3u
#define RECEIVE_OBJECTS 16u

#if LOCUM_LISTENS
#define WAKES_FOR_FRAMES MCP_INT_RXIF
#else
#define WAKES_FOR_FRAMES 0u
#endif
#if LOCUM_GUARD_BUS_OFF
#define WAKES_FOR_ERRORS MCP_INT_CERRIF
#else
#define WAKES_FOR_ERRORS 0u
#endif

typedef struct {
    uint32_t timing[3]; /* NBTCFG, DBTCFG, TDC */
    uint32_t mode;
} settings;

#define SETTINGS(index, cs_port, cs_bit, int_port, int_bit, nbtcfg, dbtcfg, tdc, fd)               \
    {{nbtcfg, dbtcfg, tdc}, (fd) ? MCP_MODE_FD : MCP_MODE_CLASSIC},
static const settings all[BOARD_CONTROLLER_COUNT] = {BOARD_CONTROLLERS(SETTINGS)};

#if LOCUM_LISTENS
typedef struct {
    uint32_t object;
    uint32_t mask;
} filter;

/* Of all controllers, one after the other; then how many each has. */
#define FILTER(object, mask) {object, mask},
static const filter filters[] = {BOARD_FILTERS(FILTER){0, 0}};
static const uint8_t filter_counts[BOARD_CONTROLLER_COUNT] = {BOARD_FILTER_COUNTS};

static uint32_t first_filter(uint8_t bus)
{
    uint32_t first = 0;

    for (uint8_t i = 0; i < bus; i++) {
        first += filter_counts[i];
    }
    return first;
}

static void set_filters(uint8_t bus)
{
    const filter *const own = &filters[first_filter(bus)];

    for (uint32_t i = 0; i < filter_counts[bus]; i++) {
        const uint32_t words[2] = {own[i].object, own[i].mask};

        link_write_byte(bus, MCP_FLTCON + i, 0); /* off, as long as it changes */
        link_write(bus, MCP_FLTOBJ0 + 8u * i, words, 2);
    }
}

void controller_listen(uint8_t bus)
{
    for (uint32_t i = 0; i < filter_counts[bus]; i++) {
        link_write_byte(bus, MCP_FLTCON + i, MCP_FLTEN | 1u); /* to FIFO 1 */
    }
}
#endif

static uint32_t payload(uint8_t bus)
{
    return all[bus].mode == MCP_MODE_FD ? MCP_PLSIZE_64 : MCP_PLSIZE_8;
}

static uint32_t control(uint8_t bus, uint32_t mode)
{
    (void)bus;
    return mode << MCP_CON_REQOP_SHIFT | MCP_CON_TXQEN | MCP_CON_STEF | MCP_CON_PXEDIS |
           MCP_CON_ISOCRCEN;
}

void controller_configure(uint8_t bus)
{
    link_write_word(bus, MCP_CON, control(bus, MCP_MODE_CONFIGURATION));
    link_write(bus, MCP_NBTCFG, all[bus].timing, 3);
    link_write_word(bus, MCP_TEFCON, MCP_FSIZE(EVENTS) | MCP_NOT_EMPTY_IE);
    link_write_word(bus, MCP_TXQCON,
                    payload(bus) | MCP_FSIZE(SEND_OBJECTS) | MCP_TXAT_UNLIMITED | MCP_TXEN);
#if LOCUM_LISTENS
    link_write_word(bus, MCP_FIFOCON1,
                    payload(bus) | MCP_FSIZE(RECEIVE_OBJECTS) | MCP_RXOVIE | MCP_NOT_EMPTY_IE);
    set_filters(bus);
#endif
    link_write_word(bus, MCP_INT, MCP_INT_ENABLE(WAKES_FOR_FRAMES | WAKES_FOR_ERRORS));
}

static uint32_t mode_of(uint32_t con)
{
    return con >> MCP_CON_OPMOD_SHIFT & MCP_CON_MODE_MASK;
}

bool controller_takes_part(uint8_t bus)
{
    return mode_of(link_read_word(bus, MCP_CON)) == all[bus].mode;
}

bool controller_awaits_settings(uint8_t bus)
{
    const uint32_t con = link_read_word(bus, MCP_CON);

    return mode_of(con) == MCP_MODE_CONFIGURATION &&
           (con >> MCP_CON_REQOP_SHIFT & MCP_CON_MODE_MASK) == MCP_MODE_CONFIGURATION;
}

bool controller_is_configured(uint8_t bus)
{
    return link_read_word(bus, MCP_NBTCFG) == all[bus].timing[0] &&
           (link_read_word(bus, MCP_CON) >> MCP_CON_REQOP_SHIFT & MCP_CON_MODE_MASK) ==
               all[bus].mode;
}

void controller_join(uint8_t bus)
{
    link_write_word(bus, MCP_CON, control(bus, all[bus].mode));
    for (uint32_t looks = JOIN_LOOKS; looks != 0u && !controller_takes_part(bus); looks--) {
    }
}

/* Until the crystal swings the controller does not hear a reset, so it is repeated. */
static bool reset(uint8_t bus)
{
    for (uint32_t left = RESET_ATTEMPTS; left != 0u; left--) {
        link_reset(bus);
        board_pause(ATTEMPT_US);
        if (controller_awaits_settings(bus)) {
            return true;
        }
    }
    return false;
}

bool controller_start(uint8_t bus)
{
    if (!reset(bus)) {
        return false;
    }
    controller_configure(bus);
#if LOCUM_LISTENS
    controller_listen(bus);
#endif
    controller_join(bus);
    for (uint32_t left = JOIN_ATTEMPTS; left != 0u && !controller_takes_part(bus); left--) {
        board_pause(ATTEMPT_US);
    }
    return true;
}
