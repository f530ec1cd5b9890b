/*
 * Outputs: pins that switch dummy loads and lines (RULES.md, rules O1 to O5). For locum_core.c
 * alone.
 */
#ifndef LOCUM_OUTPUTS_H
#define LOCUM_OUTPUTS_H

#include "locum_core.h"

#if LOCUM_OUTPUTS

/* Power-on or reset; before the modules enter their modes. */
void locum_outputs_start(locum_core *core);

/* At the end of each instant's mode changes: which outputs are wanted. */
void locum_outputs_want(locum_core *core, uint32_t at_us);

/* Once per step, behind the guards: turns what is due and tells the board. */
void locum_outputs_turn(locum_core *core, uint32_t now_us);

/* The earlier of due_us (if has_due) and the next turn; false when there is neither. */
bool locum_outputs_due(const locum_core *core, bool has_due, uint32_t *due_us);

#endif
#endif
