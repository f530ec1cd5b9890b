#include "locum_outputs.h"

#if LOCUM_OUTPUTS

#include "locum_port.h"
#include "locum_time.h"

enum {
    OUTPUT_RESTS, /* not wanted */
    OUTPUT_WAITS, /* goes on at turn_us */
    OUTPUT_LASTS, /* on, as long as it is wanted */
    OUTPUT_ENDS,  /* on until turn_us */
    OUTPUT_SPENT  /* its time is over; wanted still */
};

static bool is_timed(const locum_output_state *state)
{
    return state->phase == OUTPUT_WAITS || state->phase == OUTPUT_ENDS;
}

void locum_outputs_start(locum_core *core)
{
    core->outputs_on = 0;
    for (uint8_t i = 0; i < LOCUM_OUTPUTS; i++) {
        core->board->output_states[i].phase = OUTPUT_RESTS;
    }
}

void locum_outputs_want(locum_core *core, uint32_t at_us)
{
    for (uint8_t i = 0; i < LOCUM_OUTPUTS; i++) {
        const locum_output_rule *rule = &core->board->output_rules[i];
        locum_output_state *state = &core->board->output_states[i];
        bool (*wanted)(uint8_t, locum_input_set) =
            LOCUM_ROM_FN(bool (*)(uint8_t, locum_input_set), rule->wanted);
        const uint8_t mode = core->board->module_states[LOCUM_ROM_U8(rule->module)].mode;

        if (!wanted(mode, core->active)) {
            state->phase = OUTPUT_RESTS;
        } else if (state->phase == OUTPUT_RESTS) {
            state->phase = OUTPUT_WAITS;
            state->turn_us = at_us + LOCUM_ROM_U32(rule->after_us);
        }
    }
}

void locum_outputs_turn(locum_core *core, uint32_t now_us)
{
    locum_output_set on = 0;

    for (uint8_t i = 0; i < LOCUM_OUTPUTS; i++) {
        locum_output_state *state = &core->board->output_states[i];

        if (state->phase == OUTPUT_WAITS && reached(now_us, state->turn_us)) {
            const uint32_t for_us = LOCUM_ROM_U32(core->board->output_rules[i].for_us);

            state->phase = for_us == 0u ? OUTPUT_LASTS : OUTPUT_ENDS;
            state->turn_us += for_us;
        }
        if (state->phase == OUTPUT_ENDS && reached(now_us, state->turn_us)) {
            state->phase = OUTPUT_SPENT;
        }
        if (state->phase == OUTPUT_LASTS || state->phase == OUTPUT_ENDS) {
            on |= (locum_output_set)(1u << i);
        }
    }
#if LOCUM_GUARDS
    if (locum_silence(core) != LOCUM_TALKS) {
        on = 0;
    }
#endif
#if LOCUM_GUARD_BROWN_OUTS
    if (locum_outputs_are_off(core)) {
        on = 0;
    }
#endif
    if (on != core->outputs_on) {
        core->outputs_on = on;
        locum_port_outputs(on ^ core->board->outputs_low);
    }
}

bool locum_outputs_due(const locum_core *core, bool has_due, uint32_t *due_us)
{
    for (uint8_t i = 0; i < LOCUM_OUTPUTS; i++) {
        const locum_output_state *state = &core->board->output_states[i];

        if (is_timed(state) && (!has_due || reached(*due_us, state->turn_us))) {
            *due_us = state->turn_us;
            has_due = true;
        }
    }
    return has_due;
}

#endif
