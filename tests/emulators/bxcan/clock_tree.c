#include "clock_tree.h"

#include "report.h"

#define INTERNAL_HZ 8000000u
#define CRYSTAL_HZ 8000000u
#define CRYSTAL_START_NS 2000000u
#define PLL_LOCK_NS 200000u

enum {
    CR = 0x00,
    CFGR = 0x04,
    CIR = 0x08,
    APB2RSTR = 0x0C,
    APB1RSTR = 0x10,
    AHBENR = 0x14,
    APB2ENR = 0x18,
    APB1ENR = 0x1C,
    CSR = 0x24
};
enum {
    HSION = 1u << 0,
    HSIRDY = 1u << 1,
    HSEON = 1u << 16,
    HSERDY = 1u << 17,
    CSSON = 1u << 19,
    PLLON = 1u << 24,
    PLLRDY = 1u << 25
};
enum { CSSF = 1u << 7, CSSC = 1u << 23 };
#define RMVF (1u << 24)
#define CSR_FLAGS 0xFC000000u
enum { SOURCE_HSI = 0, SOURCE_HSE = 1, SOURCE_PLL = 2 };

#define CR_WRITABLE (HSION | 0xF8u | HSEON | (1u << 18) | CSSON | PLLON)
#define PLL_FIELDS ((0xFu << 18) | (3u << 16)) /* locked while the PLL runs */
#define SWS_FIELD (3u << 2)

void clock_tree_reset(clock_tree *clock, uint32_t cause)
{
    const uint32_t csr = cause == CSR_POWER ? cause : (clock->csr & CSR_FLAGS) | cause;
    const bool missing = clock->crystal_missing;
    const uint64_t stops_at = clock->crystal_stops_at;

    *clock = (clock_tree){.cr = 0x83u,
                          .ahbenr = 0x14u,
                          .csr = csr,
                          .flash_acr = 0x30u,
                          .crystal_ready_at = NEVER,
                          .pll_ready_at = NEVER,
                          .crystal_missing = missing,
                          .crystal_stops_at = stops_at};
}

static bool source_ready(const clock_tree *clock, uint32_t source)
{
    static const uint32_t ready[] = {HSIRDY, HSERDY, PLLRDY};

    return source <= SOURCE_PLL && (clock->cr & ready[source]) != 0u;
}

static uint32_t pll_hz(const clock_tree *clock)
{
    const uint32_t field = (clock->cfgr >> 18) & 0xFu;
    const uint32_t factor = field >= 14u ? 16u : field + 2u;
    uint32_t input = INTERNAL_HZ / 2u;

    if ((clock->cfgr & (1u << 16)) != 0u) {
        input = (clock->cfgr & (1u << 17)) != 0u ? CRYSTAL_HZ / 2u : CRYSTAL_HZ;
    }
    return input * factor;
}

static uint32_t system_hz(const clock_tree *clock)
{
    const uint32_t source = (clock->cfgr >> 2) & 3u;

    if (!source_ready(clock, source)) {
        return 0;
    }
    return source == SOURCE_PLL ? pll_hz(clock) : source == SOURCE_HSE ? CRYSTAL_HZ : INTERNAL_HZ;
}

uint32_t clock_tree_core(const clock_tree *clock)
{
    static const unsigned shifts[8] = {1, 2, 3, 4, 6, 7, 8, 9};
    const uint32_t field = (clock->cfgr >> 4) & 0xFu;

    return field < 8u ? system_hz(clock) : system_hz(clock) >> shifts[field - 8u];
}

uint32_t clock_tree_apb1(const clock_tree *clock)
{
    const uint32_t field = (clock->cfgr >> 8) & 7u;

    return field < 4u ? clock_tree_core(clock) : clock_tree_core(clock) >> (field - 3u);
}

uint32_t clock_tree_timers(const clock_tree *clock)
{
    const bool divided = ((clock->cfgr >> 8) & 7u) >= 4u;

    return divided ? 2u * clock_tree_apb1(clock) : clock_tree_core(clock);
}

unsigned clock_tree_wait_states(const clock_tree *clock)
{
    return clock->flash_acr & 7u;
}

static void check_limits(const clock_tree *clock)
{
    const uint32_t hz = system_hz(clock);
    const unsigned needed = hz > 48000000u ? 2u : hz > 24000000u ? 1u : 0u;

    if (hz > 72000000u) {
        report_fault("-", "system clock %u Hz is above 72 MHz", hz);
    }
    if (clock_tree_apb1(clock) > 36000000u) {
        report_fault("-", "APB1 clock %u Hz is above 36 MHz", clock_tree_apb1(clock));
    }
    if (clock_tree_wait_states(clock) < needed) {
        report_fault("-", "%u flash wait states at %u Hz", clock_tree_wait_states(clock), hz);
    }
}

/* The switch follows SW once the source runs. */
static void follow(clock_tree *clock)
{
    const uint32_t wanted = clock->cfgr & 3u;

    if (source_ready(clock, wanted)) {
        clock->cfgr = (clock->cfgr & ~SWS_FIELD) | (wanted << 2);
    }
    check_limits(clock);
}

void clock_tree_set_wait_states(clock_tree *clock, uint32_t value)
{
    clock->flash_acr = value & 0x3Fu;
    check_limits(clock);
}

uint32_t clock_tree_read(const clock_tree *clock, uint32_t offset)
{
    switch (offset) {
    case CR:
        return clock->cr;
    case CFGR:
        return clock->cfgr;
    case CIR:
        return clock->cir;
    case APB2RSTR:
        return 0;
    case APB1RSTR:
        return clock->apb1rstr;
    case AHBENR:
        return clock->ahbenr;
    case APB2ENR:
        return clock->apb2enr;
    case APB1ENR:
        return clock->apb1enr;
    case CSR:
        return clock->csr;
    default:
        report_fault("-", "RCC register 0x%02X is not modelled", offset);
        return 0;
    }
}

static void write_control(clock_tree *clock, uint32_t value, uint64_t now)
{
    const uint32_t old = clock->cr;

    /* What the system runs on cannot be switched off. */
    if (((clock->cfgr >> 2) & 3u) == SOURCE_PLL) {
        value |= PLLON | ((clock->cfgr & (1u << 16)) != 0u ? (uint32_t)HSEON : (uint32_t)HSION);
    }
    clock->cr = (old & ~CR_WRITABLE) | (value & CR_WRITABLE);
    if ((value & HSION) != 0u) {
        clock->cr |= HSIRDY; /* a few microseconds, not modelled */
    } else {
        clock->cr &= ~(uint32_t)HSIRDY;
    }
    if ((value & HSEON) == 0u) {
        clock->cr &= ~(uint32_t)HSERDY;
        clock->crystal_ready_at = NEVER;
    } else if ((old & HSEON) == 0u && !clock->crystal_missing) {
        clock->crystal_ready_at = now + CRYSTAL_START_NS;
    }
    if ((value & PLLON) == 0u) {
        clock->cr &= ~(uint32_t)PLLRDY;
        clock->pll_ready_at = NEVER;
    } else if ((old & PLLON) == 0u) {
        clock->pll_ready_at = now + PLL_LOCK_NS;
    }
}

void clock_tree_write(clock_tree *clock, uint32_t offset, uint32_t value, uint64_t now)
{
    switch (offset) {
    case CR:
        write_control(clock, value, now);
        break;
    case CFGR:
        if ((clock->cr & PLLON) != 0u) {
            value = (value & ~PLL_FIELDS) | (clock->cfgr & PLL_FIELDS);
        }
        clock->cfgr = (value & 0x07FFFFF3u) | (clock->cfgr & SWS_FIELD);
        break;
    case CIR:
        if ((value & CSSC) != 0u) {
            clock->cir &= ~(uint32_t)CSSF;
        }
        break;
    case APB1RSTR:
        clock->apb1rstr = value;
        break;
    case AHBENR:
        clock->ahbenr = value;
        break;
    case APB2ENR:
        clock->apb2enr = value;
        break;
    case APB1ENR:
        clock->apb1enr = value;
        break;
    case CSR:
        if ((value & 1u) != 0u) {
            report_fault("-", "the internal slow oscillator is not modelled");
        }
        clock->csr = (value & RMVF) != 0u ? RMVF : clock->csr;
        break;
    default:
        report_fault("-", "RCC register 0x%02X is not modelled", offset);
        break;
    }
    follow(clock);
}

static void stop_crystal(clock_tree *clock)
{
    const bool used =
        (clock->cfgr & SWS_FIELD) == (SOURCE_HSE << 2) ||
        ((clock->cfgr & SWS_FIELD) == (SOURCE_PLL << 2) && (clock->cfgr & (1u << 16)) != 0u);

    clock->cr &= ~(uint32_t)HSERDY;
    if ((clock->cr & CSSON) != 0u) {
        clock->cr &= ~(uint32_t)(HSEON | PLLON | PLLRDY);
        clock->cr |= HSION | HSIRDY;
        clock->cfgr &= ~(SWS_FIELD | 3u);
        clock->cir |= CSSF;
    } else if (used) {
        report_fault("-", "the crystal stopped and nothing watched it");
    }
}

void clock_tree_advance(clock_tree *clock, uint64_t now)
{
    if (clock->crystal_ready_at <= now) {
        clock->crystal_ready_at = NEVER;
        clock->cr |= HSERDY;
    }
    if (clock->pll_ready_at <= now) {
        clock->pll_ready_at = NEVER;
        clock->cr |= PLLRDY;
    }
    if (clock->crystal_stops_at <= now) {
        clock->crystal_stops_at = NEVER;
        clock->crystal_missing = true;
        stop_crystal(clock);
    }
    follow(clock);
}

uint64_t clock_tree_next(const clock_tree *clock)
{
    uint64_t next = clock->crystal_ready_at;

    if (clock->pll_ready_at < next) {
        next = clock->pll_ready_at;
    }
    return clock->crystal_stops_at < next ? clock->crystal_stops_at : next;
}

bool clock_tree_nmi(const clock_tree *clock)
{
    return (clock->cir & CSSF) != 0u;
}

bool clock_tree_feeds(const clock_tree *clock, uint32_t apb1_bit, uint32_t apb2_bit)
{
    return (clock->apb1enr & apb1_bit) == apb1_bit && (clock->apb2enr & apb2_bit) == apb2_bit;
}
