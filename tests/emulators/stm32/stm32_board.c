/*
 * Runs a firmware on an emulated STM32 and prints what leaves over its CAN buses (script.h), then
 * what it cost:
 *
 *   frame BUS ID DATA ACCEPTED START END   microseconds since reset, three decimals
 *   fault BUS TEXT                         the firmware broke a rule of the chip or met a failure
 *   reset T                                a reset, by the script or the watchdog
 *   life T                                 the firmware's clock starts: after power-on, a reset
 *   pin PIN LEVEL T                        with --watch: what the pin puts out from T on
 *   measure NAME VALUE
 *
 * ACCEPTED is the moment at which the program asks for the transmission. "clock" in the script
 * sets what the counters of the clock show when the program starts them.
 *
 * Exit code 2: bad arguments, firmware or script. Faults do not change the exit code.
 */
#include <stdio.h>

#include "machine.h"
#include "script_file.h"

#define NS_PER_US 1000u

static options arguments;
static script stimulus;
static board_model board;
static machine core;
static elf_image image;

static void print_time(const char *name, uint64_t ns)
{
    if (ns != UINT64_MAX) {
        printf("measure %s %.3f\n", name, (double)ns / NS_PER_US);
    }
}

static void print_measures(void)
{
    const uint64_t clock_start = board.counts.clock_start;
    const uint64_t total = board.now - (clock_start == UINT64_MAX ? 0u : clock_start);
    const uint64_t frames = board.counts.frames;

    print_time("clock_start_us", clock_start);
    print_time("start_us", core.started_at);
    print_time("first_frame_us", board.counts.first_frame_at);
    printf("measure sleep_share %.4f\n", total == 0u ? 0.0 : (double)core.slept / (double)total);
    printf("measure cpu_us_per_frame %.3f\n",
           frames == 0u ? 0.0 : (double)(total - core.slept) / NS_PER_US / (double)frames);
    printf("measure awake_us %.3f\n", (double)(total - core.slept) / NS_PER_US);
    printf("measure frames_heard %u\n", board_model_heard(&board));
    printf("measure overruns %u\n", board_model_overruns(&board));
    printf("measure overruns_counted %u\n", machine_word(&core, &image, "can_overruns"));
    printf("measure stack_bytes %u\n", machine_stack_bytes(&core));
}

int main(int argc, char **argv)
{
    if (!options_read(&arguments, argc, argv) || !script_read_file(&stimulus, arguments.script) ||
        !elf_image_read(&image, arguments.firmware)) {
        return 2;
    }
    board_model_init(&board, &arguments, &stimulus);
    if (!machine_init(&core, &board, &image)) {
        return 2;
    }
    machine_run(&core, stimulus.end * NS_PER_US);
    board_model_print_waiting(&board);
    print_measures();
    uc_close(core.uc);
    return 0;
}
