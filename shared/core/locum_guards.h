/*
 * Guards: when a board must not send (RULES.md, rules G1 to G9). For locum_core.c alone.
 */
#ifndef LOCUM_GUARDS_H
#define LOCUM_GUARDS_H

#include "locum_core.h"

#if LOCUM_GUARDS

/* Power-on or reset; before the modules enter their modes. */
void locum_guards_start(locum_core *core, uint32_t now_us);

/* The mode in which a module starts: its first, or the one that was kept over a reset. */
uint8_t locum_guards_first_mode(const locum_core *core, uint8_t module);

/* A frame was received. */
void locum_guards_hear(locum_core *core, const locum_frame *frame);

/* After the mode changes of a step, before its releases. */
void locum_guards_decide(locum_core *core, uint32_t now_us);

/* True while no frame may be sent on the bus. */
static inline bool locum_guards_shut(const locum_core *core, uint8_t bus)
{
#if LOCUM_GUARD_BUS_OFF
    if (core->guards.buses[bus].state == LOCUM_BUS_WAITS) {
        return true;
    }
#else
    (void)bus;
#endif
    return core->guards.silent != LOCUM_TALKS;
}

/* The earlier of due_us (if has_due) and the guards' next instant; false when there is neither. */
bool locum_guards_due(const locum_core *core, bool has_due, uint32_t *due_us);

/* Drops the pending frames of a bus. In locum_core.c. */
void locum_drop_pending(locum_core *core, uint8_t bus);

#endif
#endif
