#include "cost.h"

#include <stdbool.h>

static unsigned bits_set(unsigned value)
{
    unsigned count = 0;

    for (; value != 0u; value &= value - 1u) {
        count++;
    }
    return count;
}

static unsigned cost_of_narrow(unsigned op)
{
    if ((op & 0xF800u) == 0x4800u || (op & 0xF000u) == 0x5000u || (op & 0xE000u) == 0x6000u ||
        (op & 0xE000u) == 0x8000u) {
        return 2; /* single load or store */
    }
    if ((op & 0xF600u) == 0xB400u) {
        return 1u + bits_set(op & 0x1FFu); /* push, pop */
    }
    if ((op & 0xF000u) == 0xC000u) {
        return 1u + bits_set(op & 0xFFu); /* store or load multiple */
    }
    return 1;
}

static unsigned cost_of_wide(unsigned first, unsigned second)
{
    if ((first & 0xFE40u) == 0xE800u) {
        return 1u + bits_set(second); /* store or load multiple */
    }
    if ((first & 0xFE40u) == 0xE840u) {
        return 3; /* double word, exclusive, table branch */
    }
    if ((first & 0xFE00u) == 0xF800u) {
        return 2; /* single load or store */
    }
    if ((first & 0xFF80u) == 0xFB00u) {
        return 2; /* multiply with 32-bit result */
    }
    if ((first & 0xFFD0u) == 0xFB90u) {
        return 7; /* division: 2 to 12 */
    }
    if ((first & 0xFF80u) == 0xFB80u) {
        return 4; /* multiply with 64-bit result: 3 to 5 */
    }
    return 1;
}

unsigned cost_of_block(const uint8_t *code, size_t size)
{
    unsigned cycles = 0;

    for (size_t at = 0; at + 2u <= size;) {
        const unsigned first = code[at] | ((unsigned)code[at + 1u] << 8);
        const bool wide = first >= 0xE800u;

        if (wide && at + 4u <= size) {
            cycles += cost_of_wide(first, code[at + 2u] | ((unsigned)code[at + 3u] << 8));
        } else {
            cycles += cost_of_narrow(first);
        }
        at += wide ? 4u : 2u;
    }
    return cycles;
}

unsigned cost_of_jump(unsigned wait_states)
{
    return 2u + wait_states;
}

unsigned cost_of_device(uint32_t core_hz, uint32_t bus_hz)
{
    return bus_hz == 0u ? 0u : 2u * (core_hz / bus_hz);
}
