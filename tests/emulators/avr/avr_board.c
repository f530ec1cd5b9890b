/*
 * Runs a firmware on an emulated ATmega328P with MCP2515 controllers and prints what leaves over
 * the buses (script.h), then what it cost:
 *
 *   frame BUS ID DATA ACCEPTED START END   microseconds since reset, three decimals
 *   fault …                                the firmware or its settings broke a rule
 *   reset T                                a reset, by the script or the watchdog
 *   life T                                 the firmware's clock shows 0: after power-on, a reset
 *   pin PIN LEVEL T                        with --watch: what the pin puts out from T on
 *   measure NAME VALUE
 *
 * Exit code 2: bad arguments, firmware or script. Faults do not change the exit code.
 */
#include <stdio.h>

#include "machine.h"
#include "script_file.h"

static options arguments;
static script stimulus;
static machine board;

static bool read_script(const char *path)
{
    if (!script_read_file(&stimulus, path)) {
        return false;
    }
    if (stimulus.clock != 0 || stimulus.stall_count != 0) {
        fprintf(stderr, "the emulated board knows neither clock nor stall\n");
        return false;
    }
    return true;
}

int main(int argc, char **argv)
{
    if (!options_read(&arguments, argc, argv) || !read_script(arguments.script) ||
        !machine_init(&board, &arguments, &stimulus)) {
        return 2;
    }
    machine_run(&board, stimulus.end);
    world_print_waiting(&board.world);
    world_print_receptions(&board.world);
    measure_print(&board.measure, board.avr->cycle, machine_stack_bytes(&board));
    return 0;
}
