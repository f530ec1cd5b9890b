/* The register maps (RM0440 and RM0433, "FDCAN registers", from memory). */
#include "fdcan_map.h"

#define COMMON                                                                                     \
    {0x0C, DBTP, true, 0x00000A33u, 0x009F1FFFu}, {0x18, CCCR, false, 1, 0xF3FFu},                 \
        {0x1C, NBTP, true, 0x06000A03u, 0xFFFFFF7Fu}, {0x40, ECR, false, 0, 0},                    \
        {0x44, PSR, false, 0x707u, 0}, {0x48, TDCR, true, 0, 0x7F7Fu},                             \
        {0x50, IR, false, 0, 0x3FFFFFFFu}, {0x54, IE, false, 0, 0x3FFFFFFFu},                      \
        {0x58, ILS, false, 0, 0x3FFFFFFFu},                                                        \
    {                                                                                              \
        0x5C, ILE, false, 0, 3                                                                     \
    }

static const fdcan_register fixed_map[] = {
    COMMON,
    {0x80, GFC, true, 0, 0x0F1F033Fu},
    {0x84, XIDAM, true, 0x1FFFFFFFu, 0x1FFFFFFFu},
    {0x90, RXF0S, false, 0, 0},
    {0x94, RXF0A, false, 0, 7},
    {0xC0, TXBC, true, 0, 1u << 24},
    {0xC4, TXFQS, false, 3, 0},
    {0xC8, TXBRP, false, 0, 0},
    {0xCC, TXBAR, false, 0, 7},
    {0xD0, TXBCR, false, 0, 7},
    {0xD4, TXBTO, false, 0, 0},
    {0xD8, TXBCF, false, 0, 0},
    {0xDC, TXBTIE, false, 0, 7},
    {0xE0, TXBCIE, false, 0, 7},
};

static const fdcan_register configurable_map[] = {
    COMMON,
    {0x80, GFC, true, 0, 0x3Fu},
    {0x84, SIDFC, true, 0, 0x00FFFFFCu},
    {0x88, XIDFC, true, 0, 0x007FFFFCu},
    {0x90, XIDAM, true, 0x1FFFFFFFu, 0x1FFFFFFFu},
    {0xA0, RXF0C, true, 0, 0xFF7FFFFCu},
    {0xA4, RXF0S, false, 0, 0},
    {0xA8, RXF0A, false, 0, 0x3Fu},
    {0xBC, RXESC, true, 0, 0x777u},
    {0xC0, TXBC, true, 0, 0x7F3FFFFCu},
    {0xC4, TXFQS, false, 0, 0},
    {0xC8, TXESC, true, 0, 7},
    {0xCC, TXBRP, false, 0, 0},
    {0xD0, TXBAR, false, 0, 0xFFFFFFFFu},
    {0xD4, TXBCR, false, 0, 0xFFFFFFFFu},
    {0xD8, TXBTO, false, 0, 0},
    {0xDC, TXBCF, false, 0, 0},
    {0xE0, TXBTIE, false, 0, 0xFFFFFFFFu},
    {0xE4, TXBCIE, false, 0, 0xFFFFFFFFu},
};

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

const fdcan_kind fdcan_fixed = {
    fixed_map, COUNT(fixed_map), false,   3u * 212u, 1u << 0,  1u << 1,
    1u << 2,   1u << 7,          1u << 8, 1u << 17,  1u << 18, 1u << 19,
};

const fdcan_kind fdcan_configurable = {
    configurable_map,
    COUNT(configurable_map),
    true,
    FDCAN_RAM_WORDS,
    1u << 0,
    1u << 2,
    1u << 3,
    1u << 9,
    1u << 10,
    1u << 23,
    1u << 24,
    1u << 25,
};
