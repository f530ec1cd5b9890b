#include "timers.h"

#include <string.h>

#include "report.h"

#define SECOND_NS 1000000000u

enum {
    CR1 = 0x00,
    CR2 = 0x04,
    SMCR = 0x08,
    DIER = 0x0C,
    SR = 0x10,
    EGR = 0x14,
    CCMR1 = 0x18,
    CCER = 0x20,
    CNT = 0x24,
    PSC = 0x28,
    ARR = 0x2C,
    CCR1 = 0x34
};
enum { CEN = 1u, UPDATE = 1u << 0, COMPARE = 1u << 1 };
enum { TRGO_UPDATE = 2u << 4, CLOCKED_BY_ITR1 = 0x17u };

static uint32_t full_scale(const timers *timers, unsigned index)
{
    return timers->wide && index == 0u ? UINT32_MAX : 0xFFFFu;
}

void timers_reset(timers *timers, bool wide, uint32_t start_count)
{
    memset(timers, 0, sizeof *timers);
    timers->wide = wide;
    for (unsigned i = 0; i < TIMER_COUNT; i++) {
        timers->each[i].arr = full_scale(timers, i);
    }
    timers->start_count = start_count;
    timers->started_at = UINT64_MAX;
}

static bool runs_by_itself(const timers *timers, const timer *timer)
{
    return (timer->cr1 & CEN) != 0u && timer->smcr == 0u && timers->hz != 0u;
}

/* The moment at which the counter has taken so many steps since its base. */
static uint64_t step_time(const timers *timers, const timer *timer, uint64_t steps)
{
    const unsigned __int128 cycles = (unsigned __int128)steps * (timer->psc + 1u);

    return timer->base + (uint64_t)((cycles * SECOND_NS + timers->hz - 1u) / timers->hz);
}

static uint32_t count_at(const timers *timers, const timer *timer, uint64_t now)
{
    if (!runs_by_itself(timers, timer)) {
        return timer->count;
    }
    return timer->count +
           (uint32_t)((now - timer->base) * timers->hz / SECOND_NS / (timer->psc + 1u));
}

static void rebase(const timers *timers, timer *timer)
{
    const uint32_t count = count_at(timers, timer, timers->now);

    if (runs_by_itself(timers, timer)) {
        timer->base = step_time(timers, timer, count - timer->count);
    } else {
        timer->base = timers->now;
    }
    timer->count = count;
}

static void update(timers *timers, unsigned index);

/* The chained timer takes one step. */
static void clock_slave(timers *timers)
{
    timer *slave = &timers->each[1];

    if ((slave->cr1 & CEN) == 0u || slave->smcr != CLOCKED_BY_ITR1) {
        return;
    }
    if (slave->psc != 0u) {
        report_fault("-", "a chained timer with a prescaler is not modelled");
    }
    if (slave->count == slave->arr) {
        update(timers, 1);
    } else {
        slave->count++;
    }
    if (slave->count == slave->ccr1) {
        slave->sr |= COMPARE;
    }
}

static void update(timers *timers, unsigned index)
{
    timer *timer = &timers->each[index];

    timer->count = 0;
    timer->base = timers->now;
    timer->psc = timer->psc_next;
    timer->sr |= UPDATE;
    if (index == 0u && timer->cr2 == TRGO_UPDATE) {
        clock_slave(timers);
    }
}

uint32_t timers_read(const timers *timers, unsigned index, uint32_t offset)
{
    const timer *timer = &timers->each[index];

    switch (offset) {
    case CR1:
        return timer->cr1;
    case CR2:
        return timer->cr2;
    case SMCR:
        return timer->smcr;
    case DIER:
        return timer->dier;
    case SR:
        return timer->sr;
    case EGR:
        return 0;
    case CCMR1:
        return 0;
    case CCER:
        return 0;
    case CNT:
        return count_at(timers, timer, timers->now) & full_scale(timers, index);
    case PSC:
        return timer->psc_next;
    case ARR:
        return timer->arr;
    case CCR1:
        return timer->ccr1;
    default:
        report_fault("-", "timer register 0x%02X is not modelled", offset);
        return 0;
    }
}

static void start_clock(timers *timers)
{
    if (timers->started_at == UINT64_MAX) {
        timers->started_at = timers->now;
        timers->each[0].count = timers->start_count & full_scale(timers, 0);
        timers->each[1].count = timers->start_count >> 16;
    }
}

static void only(const char *name, uint32_t value, uint32_t modelled)
{
    if ((value & ~modelled) != 0u) {
        report_fault("-", "timer mode %s = 0x%X is not modelled", name, value);
    }
}

void timers_write(timers *timers, unsigned index, uint32_t offset, uint32_t value)
{
    timer *timer = &timers->each[index];

    rebase(timers, timer);
    switch (offset) {
    case CR1:
        only("CR1", value, CEN);
        if (index == 0u && (value & ~timer->cr1 & CEN) != 0u) {
            start_clock(timers);
        }
        timer->cr1 = value;
        timer->base = timers->now;
        break;
    case CR2:
        only("CR2", value, TRGO_UPDATE);
        timer->cr2 = value;
        break;
    case SMCR:
        if (value != 0u && (index == 0u || value != CLOCKED_BY_ITR1)) {
            only("SMCR", value, 0);
        }
        timer->smcr = value;
        break;
    case DIER:
        only("DIER", value, UPDATE | COMPARE);
        timer->dier = value;
        break;
    case SR:
        timer->sr &= value;
        break;
    case EGR:
        only("EGR", value, UPDATE);
        if ((value & UPDATE) != 0u) {
            update(timers, index);
        }
        break;
    case CCMR1:
        only("CCMR1", value, 0);
        break;
    case CCER:
        only("CCER", value, 0);
        break;
    case CNT:
        timer->count = value & full_scale(timers, index);
        break;
    case PSC:
        timer->psc_next = value & 0xFFFFu;
        break;
    case ARR:
        timer->arr = value & full_scale(timers, index);
        break;
    case CCR1:
        timer->ccr1 = value & full_scale(timers, index);
        break;
    default:
        report_fault("-", "timer register 0x%02X is not modelled", offset);
        break;
    }
}

void timers_set_clock(timers *timers, uint32_t hz)
{
    for (unsigned i = 0; i < TIMER_COUNT; i++) {
        rebase(timers, &timers->each[i]);
    }
    timers->hz = hz;
}

/* Next moment at which the counter overflows or meets its compare value. */
static uint64_t next_of(const timers *timers, const timer *timer)
{
    uint64_t overflow;
    uint32_t count;

    if (!runs_by_itself(timers, timer)) {
        return UINT64_MAX;
    }
    count = count_at(timers, timer, timers->now);
    overflow = step_time(timers, timer, (uint64_t)timer->arr + 1u - timer->count);
    if (timer->ccr1 > count && timer->ccr1 <= timer->arr) {
        return step_time(timers, timer, timer->ccr1 - timer->count);
    }
    return overflow;
}

uint64_t timers_next(const timers *timers)
{
    const uint64_t a = next_of(timers, &timers->each[0]);
    const uint64_t b = next_of(timers, &timers->each[1]);

    return a < b ? a : b;
}

void timers_advance(timers *timers, uint64_t now)
{
    /* Called at each moment that timers_next names, so at most one thing happens per timer. */
    for (unsigned i = 0; i < TIMER_COUNT; i++) {
        timer *timer = &timers->each[i];
        const uint64_t due = next_of(timers, timer);

        if (due <= now) {
            timers->now = due;
            if (due >= step_time(timers, timer, (uint64_t)timer->arr + 1u - timer->count)) {
                update(timers, i);
            }
            if (count_at(timers, timer, due) == timer->ccr1) {
                timer->sr |= COMPARE;
            }
        }
    }
    timers->now = now;
}

bool timers_request(const timers *timers, unsigned index)
{
    return (timers->each[index].sr & timers->each[index].dier) != 0u;
}
