#include "locum_guards.h"

#if LOCUM_GUARDS

#include "locum_port.h"
#include "locum_time.h"

/* Identifier and its length, without the marks of CAN FD. */
#define ID_BITS (LOCUM_ID_EXTENDED | 0x1FFFFFFFu)

/* ---- what survives a reset ---- */

#if LOCUM_GUARD_KEEP
LOCUM_NOINIT locum_kept locum_kept_over_reset;

/* Two sums, so that swapped bytes are noticed as well. */
static uint16_t check_of(const locum_kept *kept)
{
    uint8_t low = (uint8_t)(kept->mark ^ (kept->mark >> 8));
    uint8_t high = (uint8_t)((kept->mark >> 16) ^ (kept->mark >> 24) ^ 0xA5u);

    low = (uint8_t)(low + kept->silent);
    high = (uint8_t)(high + low);
#if LOCUM_GUARD_BROWN_OUTS
    low = (uint8_t)(low + kept->brown_outs);
    high = (uint8_t)(high + low);
#endif
    for (uint8_t module = 0; module < LOCUM_GUARD_KEEP; module++) {
        low = (uint8_t)(low + kept->modes[module]);
        high = (uint8_t)(high + low);
    }
    return (uint16_t)(low | (uint16_t)((uint16_t)high << 8));
}

static bool usable(const locum_core *core)
{
    const locum_kept *kept = &locum_kept_over_reset;

    if (kept->mark != LOCUM_GUARD_MARK || kept->check != check_of(kept)) {
        return false;
    }
    for (uint8_t module = 0; module < LOCUM_GUARD_KEEP; module++) {
        if (kept->modes[module] >= LOCUM_ROM_U8(core->board->modules[module].mode_count)) {
            return false;
        }
    }
    return true;
}

static void recall(locum_core *core)
{
    const locum_reset_cause cause = locum_port_reset_cause();

    core->guards.resumes = false;
    if (cause == LOCUM_RESET_POWER || !usable(core)) {
        return;
    }
    core->guards.for_good = locum_kept_over_reset.silent;
    core->guards.resumes = LOCUM_GUARD_RESUME && cause == LOCUM_RESET_WATCHDOG;
#if LOCUM_GUARD_BROWN_OUTS
    core->guards.brown_outs = locum_kept_over_reset.brown_outs;
    if (cause == LOCUM_RESET_BROWNOUT && !locum_outputs_are_off(core)) {
        core->guards.brown_outs++;
    }
#endif
}

static void keep(const locum_core *core)
{
    locum_kept *kept = &locum_kept_over_reset;
    bool same = core->guards.kept && kept->silent == core->guards.for_good;

#if LOCUM_GUARD_BROWN_OUTS
    same = same && kept->brown_outs == core->guards.brown_outs;
#endif
    for (uint8_t module = 0; same && module < LOCUM_GUARD_KEEP; module++) {
        same = kept->modes[module] == core->board->module_states[module].mode;
    }
    if (same) {
        return;
    }
    kept->mark = LOCUM_GUARD_MARK;
    kept->silent = core->guards.for_good;
#if LOCUM_GUARD_BROWN_OUTS
    kept->brown_outs = core->guards.brown_outs;
#endif
    for (uint8_t module = 0; module < LOCUM_GUARD_KEEP; module++) {
        kept->modes[module] = core->board->module_states[module].mode;
    }
    kept->check = check_of(kept);
}
#endif

/* ---- silence ---- */

#if LOCUM_GUARD_FOREIGN || LOCUM_GUARD_BUS_OFF || LOCUM_GUARD_RUN
static void silence_for_good(locum_core *core, uint8_t reason)
{
    if (core->guards.for_good == LOCUM_TALKS) {
        core->guards.for_good = reason;
    }
}
#endif

static void hush(locum_core *core, uint8_t bus)
{
    locum_drop_pending(core, bus);
    locum_port_withdraw(bus);
}

static void show(locum_core *core)
{
    uint8_t reason = core->guards.for_good;

#if LOCUM_GUARD_ENABLE
    if (reason == LOCUM_TALKS &&
        (((unsigned)core->active >> LOCUM_ROM_U8(core->board->guards->enable_input)) & 1u) == 0u) {
        reason = LOCUM_SILENT_DISABLED;
    }
#endif
    if (reason == core->guards.silent) {
        return;
    }
    if (core->guards.silent == LOCUM_TALKS) {
        for (uint8_t bus = 0; bus < LOCUM_ROM_U8(core->board->guards->bus_count); bus++) {
            hush(core, bus);
        }
    }
    core->guards.silent = reason;
#if !LOCUM_GUARD_BROWN_OUTS
    locum_port_led(reason);
#endif
}

/* ---- brown-outs ---- */

#if LOCUM_GUARD_BROWN_OUTS
bool locum_outputs_are_off(const locum_core *core)
{
    return core->guards.brown_outs > LOCUM_ROM_U8(core->board->guards->brown_outs);
}

/* What the LED shows: silence, or that nothing is switched any more. */
static void show_outputs(locum_core *core)
{
    uint8_t code = core->guards.silent;

    if (code == LOCUM_TALKS && locum_outputs_are_off(core)) {
        code = LOCUM_OUTPUTS_OFF;
    }
    if (code != core->guards.shown) {
        core->guards.shown = code;
        locum_port_led(code);
    }
}

/* True while brown-outs are counted that a steady time will end. */
static bool forgets_brown_outs(const locum_core *core)
{
    return core->guards.brown_outs != 0u && !locum_outputs_are_off(core);
}
#endif

/* ---- bus-off ---- */

#if LOCUM_GUARD_BUS_OFF
static void watch_bus(locum_core *core, uint8_t bus, uint32_t now_us)
{
    const locum_guard_rule *rule = core->board->guards;
    locum_bus_guard *guard = &core->guards.buses[bus];

    if (guard->counts && reached(now_us, guard->forgets_us)) {
        guard->counts = false;
        guard->recoveries = 0;
    }
    if (guard->state == LOCUM_BUS_ON && locum_port_bus_off(bus)) {
        if (guard->recoveries == LOCUM_ROM_U8(rule->recoveries)) {
            silence_for_good(core, LOCUM_SILENT_BUS_OFF);
            return;
        }
        if (!guard->counts) {
            guard->counts = true;
            guard->forgets_us = now_us + LOCUM_ROM_U32(rule->within_us);
        }
        guard->recoveries++;
        guard->state = LOCUM_BUS_WAITS;
        guard->restart_us = now_us + LOCUM_ROM_U32(rule->wait_us);
        hush(core, bus);
    }
    if (guard->state == LOCUM_BUS_WAITS && reached(now_us, guard->restart_us)) {
        locum_port_restart(bus);
        guard->state = LOCUM_BUS_COMES;
    }
    if (guard->state == LOCUM_BUS_COMES && !locum_port_bus_off(bus)) {
        guard->state = LOCUM_BUS_ON;
    }
}
#endif

/* ---- for the core ---- */

void locum_guards_start(locum_core *core, uint32_t now_us)
{
    core->guards.silent = LOCUM_TALKS;
    core->guards.for_good = LOCUM_TALKS;
#if LOCUM_GUARD_FOREIGN
    core->guards.foreign = 0;
#endif
#if LOCUM_GUARD_RUN
    core->guards.run_laps = LOCUM_ROM_U16(core->board->guards->run_laps);
    core->guards.run_ends_us = now_us + LOCUM_ROM_U32(core->board->guards->run_us);
#endif
#if LOCUM_GUARD_BROWN_OUTS
    core->guards.brown_outs = 0;
    core->guards.shown = LOCUM_TALKS;
    core->guards.steady_us = now_us + LOCUM_ROM_U32(core->board->guards->steady_us);
#endif
    (void)now_us;
#if LOCUM_GUARD_BUS_OFF
    for (uint8_t bus = 0; bus < LOCUM_GUARD_BUS_OFF; bus++) {
        core->guards.buses[bus].state = LOCUM_BUS_ON;
        core->guards.buses[bus].counts = false;
        core->guards.buses[bus].recoveries = 0;
    }
#endif
#if LOCUM_GUARD_KEEP
    core->guards.kept = false;
    recall(core);
#endif
}

uint8_t locum_guards_first_mode(const locum_core *core, uint8_t module)
{
#if LOCUM_GUARD_KEEP
    if (core->guards.resumes) {
        return locum_kept_over_reset.modes[module];
    }
#else
    (void)core;
    (void)module;
#endif
    return 0;
}

void locum_guards_hear(locum_core *core, const locum_frame *frame)
{
#if LOCUM_GUARD_FOREIGN
    const locum_board *board = core->board;

    for (uint8_t row = 0; row < board->rule_count; row++) {
        if (((LOCUM_ROM_U32(board->rules[row].id) ^ frame->id) & ID_BITS) == 0u &&
            LOCUM_ROM_U8(board->rules[row].bus) == frame->bus && core->guards.foreign != 0xFFFFu) {
            core->guards.foreign++;
        }
    }
#else
    (void)core;
    (void)frame;
#endif
}

void locum_guards_decide(locum_core *core, uint32_t now_us)
{
#if LOCUM_GUARD_FOREIGN
    if (core->guards.foreign != 0u) {
        silence_for_good(core, LOCUM_SILENT_FOREIGN);
    }
#endif
#if LOCUM_GUARD_BUS_OFF
    for (uint8_t bus = 0; core->guards.for_good == LOCUM_TALKS && bus < LOCUM_GUARD_BUS_OFF;
         bus++) {
        watch_bus(core, bus, now_us);
    }
#endif
#if LOCUM_GUARD_RUN
    while (core->guards.run_laps != 0u && reached(now_us, core->guards.run_ends_us)) {
        core->guards.run_laps--;
        core->guards.run_ends_us += LAP_US;
    }
    if (core->guards.run_laps == 0u && core->guards.for_good == LOCUM_TALKS &&
        reached(now_us, core->guards.run_ends_us)) {
        silence_for_good(core, LOCUM_SILENT_RUN);
    }
#endif
#if LOCUM_GUARD_BROWN_OUTS
    if (forgets_brown_outs(core) && reached(now_us, core->guards.steady_us)) {
        core->guards.brown_outs = 0;
    }
#endif
    (void)now_us;
    show(core);
#if LOCUM_GUARD_BROWN_OUTS
    show_outputs(core);
#endif
#if LOCUM_GUARD_KEEP
    keep(core);
    core->guards.kept = true;
#endif
}

bool locum_guards_due(const locum_core *core, bool has_due, uint32_t *due_us)
{
    if (core->guards.for_good != LOCUM_TALKS) {
        return has_due;
    }
#if LOCUM_GUARD_RUN
    if (!has_due || reached(*due_us, core->guards.run_ends_us)) {
        *due_us = core->guards.run_ends_us;
        has_due = true;
    }
#endif
#if LOCUM_GUARD_BROWN_OUTS
    if (forgets_brown_outs(core) && (!has_due || reached(*due_us, core->guards.steady_us))) {
        *due_us = core->guards.steady_us;
        has_due = true;
    }
#endif
#if LOCUM_GUARD_BUS_OFF
    for (uint8_t bus = 0; bus < LOCUM_GUARD_BUS_OFF; bus++) {
        const locum_bus_guard *guard = &core->guards.buses[bus];

        if (guard->counts && (!has_due || reached(*due_us, guard->forgets_us))) {
            *due_us = guard->forgets_us;
            has_due = true;
        }
        if (guard->state == LOCUM_BUS_WAITS && (!has_due || reached(*due_us, guard->restart_us))) {
            *due_us = guard->restart_us;
            has_due = true;
        }
    }
#endif
    (void)due_us;
    return has_due;
}

uint8_t locum_silence(const locum_core *core)
{
    return core->guards.silent;
}

#endif
