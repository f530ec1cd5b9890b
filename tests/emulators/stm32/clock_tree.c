#include "clock_tree.h"

#include "report.h"

#define CRYSTAL_START_NS 2000000u
#define PLL_LOCK_NS 200000u

enum { HSEON = 1u << 16, HSERDY = 1u << 17, CSSON = 1u << 19, PLLON = 1u << 24, PLLRDY = 1u << 25 };

static int place_of(const clock_tree *clock, uint32_t offset)
{
    for (unsigned i = 0; i < clock->family->register_count; i++) {
        if (clock->family->registers[i].offset == offset) {
            return (int)i;
        }
    }
    return -1;
}

uint32_t clock_tree_value(const clock_tree *clock, uint16_t offset)
{
    return clock->values[place_of(clock, offset)];
}

static uint32_t *value_of(clock_tree *clock, uint16_t offset)
{
    return &clock->values[place_of(clock, offset)];
}

void clock_tree_reset(clock_tree *clock, clock_cause cause)
{
    const clock_family *const family = clock->family;
    const uint32_t before = clock_tree_value(clock, family->cause) & family->cause_flags;

    for (unsigned i = 0; i < family->register_count; i++) {
        clock->values[i] = family->registers[i].reset;
    }
    *value_of(clock, family->cause) =
        cause == CLOCK_POWER ? family->cause_power : before | family->cause_watchdog;
    clock->flash_acr = family->flash_acr;
    clock->crystal_ready_at = NEVER;
    clock->pll_ready_at = NEVER;
}

uint32_t clock_tree_ahb_divisor(uint32_t field)
{
    static const uint16_t divisors[8] = {2, 4, 8, 16, 64, 128, 256, 512};

    return (field & 8u) == 0u ? 1u : divisors[field & 7u];
}

uint32_t clock_tree_apb_divisor(uint32_t field)
{
    return (field & 4u) == 0u ? 1u : 2u << (field & 3u);
}

static uint32_t source(const clock_tree *clock)
{
    const clock_family *const family = clock->family;

    return (clock_tree_value(clock, family->configuration) >> family->status_shift) &
           family->switch_mask;
}

static bool source_ready(const clock_tree *clock, uint32_t code)
{
    const clock_family *const family = clock->family;
    const uint32_t control = clock_tree_value(clock, family->control);

    return (code == family->internal_code && (control & family->internal_ready) != 0u) ||
           (code == family->crystal_code && (control & HSERDY) != 0u) ||
           (code == family->pll_code && (control & PLLRDY) != 0u);
}

static uint32_t system_hz(const clock_tree *clock)
{
    const clock_family *const family = clock->family;
    const uint32_t code = source(clock);

    if (!source_ready(clock, code)) {
        return 0;
    }
    return code == family->pll_code       ? family->pll_hz(clock)
           : code == family->crystal_code ? clock->crystal_hz
                                          : family->internal_hz;
}

uint32_t clock_tree_core(const clock_tree *clock)
{
    return clock->family->core_hz(clock, system_hz(clock));
}

uint32_t clock_tree_apb1(const clock_tree *clock)
{
    return clock->family->apb1_hz(clock, clock_tree_core(clock));
}

uint32_t clock_tree_timers(const clock_tree *clock)
{
    return clock->family->timers_hz(clock, clock_tree_core(clock));
}

uint32_t clock_tree_can(const clock_tree *clock)
{
    return clock->family->can_hz(clock);
}

unsigned clock_tree_wait_states(const clock_tree *clock)
{
    return clock->flash_acr & clock->family->latency_field;
}

void clock_tree_check_flash(const clock_tree *clock, uint32_t hz, const uint32_t *limits,
                            unsigned count)
{
    unsigned needed = 0;

    while (needed < count && hz > limits[needed]) {
        needed++;
    }
    if (needed == count) {
        report_fault("-", "system clock %u Hz is above %u Hz", hz, limits[count - 1u]);
    } else if (clock_tree_wait_states(clock) < needed) {
        report_fault("-", "%u flash wait states at %u Hz", clock_tree_wait_states(clock), hz);
    }
}

/* The switch follows once the source runs. */
static void follow(clock_tree *clock)
{
    const clock_family *const family = clock->family;
    uint32_t *const configuration = value_of(clock, family->configuration);
    const uint32_t wanted = *configuration & family->switch_mask;

    if (source_ready(clock, wanted)) {
        *configuration = (*configuration & ~(family->switch_mask << family->status_shift)) |
                         (wanted << family->status_shift);
    }
    family->check_limits(clock, system_hz(clock));
}

void clock_tree_set_wait_states(clock_tree *clock, uint32_t value)
{
    clock->flash_acr = value;
    follow(clock);
}

uint32_t clock_tree_read(const clock_tree *clock, uint32_t offset)
{
    const int place = place_of(clock, offset);

    if (place < 0) {
        report_fault("-", "RCC register 0x%02X is not modelled", offset);
        return 0;
    }
    return clock->values[place];
}

static void write_control(clock_tree *clock, uint32_t value, uint64_t now)
{
    const clock_family *const family = clock->family;
    uint32_t *const control = value_of(clock, family->control);
    const uint32_t old = *control;

    /* What the system runs on cannot be switched off. */
    if (source(clock) == family->pll_code) {
        value |= PLLON | (family->pll_uses_crystal(clock) ? (uint32_t)HSEON : family->internal_on);
    }
    *control = (old & (HSERDY | PLLRDY)) | (value & ~(HSERDY | PLLRDY | family->internal_ready));
    if ((value & family->internal_on) != 0u) {
        *control |= family->internal_ready; /* a few microseconds, not modelled */
    }
    if ((value & HSEON) == 0u) {
        *control &= ~(uint32_t)HSERDY;
        clock->crystal_ready_at = NEVER;
    } else if ((old & HSEON) == 0u && !clock->crystal_missing) {
        clock->crystal_ready_at = now + CRYSTAL_START_NS;
    }
    if ((value & PLLON) == 0u) {
        *control &= ~(uint32_t)PLLRDY;
        clock->pll_ready_at = NEVER;
    } else if ((old & PLLON) == 0u) {
        if (family->pll_uses_crystal(clock) && (*control & HSERDY) == 0u) {
            report_fault("-", "the PLL is started before the crystal runs");
        }
        clock->pll_ready_at = now + PLL_LOCK_NS;
    }
}

static void write_plain(clock_tree *clock, int place, uint32_t value)
{
    const clock_family *const family = clock->family;
    const clock_register *const known = &family->registers[place];
    const bool runs = (clock_tree_value(clock, family->control) & PLLON) != 0u;
    const uint32_t kept = ~known->writable | (runs ? known->pll_locked : 0u);

    clock->values[place] = (clock->values[place] & kept) | (value & ~kept);
}

void clock_tree_write(clock_tree *clock, uint32_t offset, uint32_t value, uint64_t now)
{
    const clock_family *const family = clock->family;
    const int place = place_of(clock, offset);

    if (place < 0) {
        report_fault("-", "RCC register 0x%02X is not modelled", offset);
        return;
    }
    if (offset == family->control) {
        write_control(clock, value, now);
    } else if (offset == family->cause) {
        if ((value & family->cause_remove) != 0u) {
            clock->values[place] = family->cause_remove;
        }
    } else {
        write_plain(clock, place, value);
    }
    if (offset == family->clear && (value & family->security_clear) != 0u) {
        *value_of(clock, family->flags) &= ~family->security_flag;
    }
    follow(clock);
}

static void stop_crystal(clock_tree *clock)
{
    const clock_family *const family = clock->family;
    const uint32_t code = source(clock);
    const bool used = code == family->crystal_code ||
                      (code == family->pll_code && family->pll_uses_crystal(clock));
    uint32_t *const control = value_of(clock, family->control);
    uint32_t *const configuration = value_of(clock, family->configuration);

    *control &= ~(uint32_t)HSERDY;
    if ((*control & CSSON) != 0u) {
        *control &= ~(uint32_t)(HSEON | PLLON | PLLRDY);
        *control |= family->internal_on | family->internal_ready;
        *configuration &= ~(family->switch_mask | (family->switch_mask << family->status_shift));
        *configuration |= family->internal_code | (family->internal_code << family->status_shift);
        *value_of(clock, family->flags) |= family->security_flag;
    } else if (used) {
        report_fault("-", "the crystal stopped and nothing watched it");
    }
}

void clock_tree_advance(clock_tree *clock, uint64_t now)
{
    uint32_t *const control = value_of(clock, clock->family->control);

    if (clock->crystal_ready_at <= now) {
        clock->crystal_ready_at = NEVER;
        *control |= HSERDY;
    }
    if (clock->pll_ready_at <= now) {
        clock->pll_ready_at = NEVER;
        *control |= PLLRDY;
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
    return (clock_tree_value(clock, clock->family->flags) & clock->family->security_flag) != 0u;
}
