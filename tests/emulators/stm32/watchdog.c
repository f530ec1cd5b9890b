#include "watchdog.h"

#include "report.h"

#define SECOND_NS 1000000000ull

enum { KR = 0x00, PR = 0x04, RLR = 0x08, SR = 0x0C };

void watchdog_reset(watchdog *dog, uint32_t oscillator_hz)
{
    dog->oscillator_hz = oscillator_hz;
    dog->pr = 0;
    dog->rlr = 0xFFFu;
    dog->unlocked = false;
    dog->expires_at = UINT64_MAX;
}

static void reload(watchdog *dog, uint64_t now)
{
    const uint32_t shift = dog->pr > 6u ? 8u : dog->pr + 2u; /* /4 to /256 */

    dog->expires_at = now + (((uint64_t)dog->rlr + 1u) << shift) * SECOND_NS / dog->oscillator_hz;
}

uint32_t watchdog_read(const watchdog *dog, uint32_t offset)
{
    switch (offset) {
    case KR:
        return 0;
    case PR:
        return dog->pr;
    case RLR:
        return dog->rlr;
    case SR:
        return 0; /* settings take effect at once */
    default:
        report_fault("-", "watchdog register 0x%02X does not exist", offset);
        return 0;
    }
}

static void write_key(watchdog *dog, uint32_t key, uint64_t now)
{
    dog->unlocked = key == 0x5555u;
    if (key == 0xCCCCu || (key == 0xAAAAu && dog->expires_at != UINT64_MAX)) {
        reload(dog, now);
    }
}

void watchdog_write(watchdog *dog, uint32_t offset, uint32_t value, uint64_t now)
{
    if (offset == KR) {
        write_key(dog, value & 0xFFFFu, now);
    } else if (!dog->unlocked) {
        report_fault("-", "watchdog register 0x%02X written while locked", offset);
    } else if (offset == PR) {
        dog->pr = value & 7u;
    } else if (offset == RLR) {
        dog->rlr = value & 0xFFFu;
    }
}
