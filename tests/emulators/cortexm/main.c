/*
 * Runs a firmware on an emulated board and prints what leaves over its buses (script.h), then what
 * it cost:
 *
 *   frame BUS ID DATA ACCEPTED START END   microseconds since power-on, three decimals
 *   fault BUS TEXT                         the firmware broke a rule of the chip or met a failure
 *   reset T                                a reset, by the script or the watchdog
 *   life T                                 the firmware's clock starts: after power-on, a reset
 *   pin PIN LEVEL T                        with --watch: what the pin puts out from T on
 *   measure NAME VALUE
 *
 * ACCEPTED is the moment at which the program asks for the transmission. Exit code 2: bad
 * arguments, firmware or script. Faults do not change the exit code.
 */
#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include "board.h"
#include "core.h"
#include "report.h"
#include "script_file.h"

#define NS_PER_US 1000u
/* How far a controller's bit rate may be off, as a share. */
#define RATE_TOLERANCE 0.005

static const char usage[] = "usage: board FIRMWARE.elf SCRIPT [options]\n"
                            "  --rate 0=500000   bit rate of a bus, in order; 0=500000/2000000\n"
                            "                    with the one behind the switch\n"
                            "  --input N=B0      pin of input N\n"
                            "  --watch C13       print the levels that a pin puts out\n";

board_state the_board;

static core the_core;
static elf_image image;

void board_clock_starts(uint64_t at)
{
    if (the_board.lives) {
        return;
    }
    the_board.lives = true;
    printf("life %.3f\n", (double)at / NS_PER_US);
    if (the_board.clock_start == UINT64_MAX) {
        the_board.clock_start = at;
    }
}

void board_counts_frame(void)
{
    the_board.frames++;
}

void board_shows(char port, unsigned bit, bool level)
{
    if (the_board.watching && port == the_board.watched.port && bit == the_board.watched.bit &&
        the_board.watched_level != (int)level) {
        the_board.watched_level = level;
        printf("pin %c%u %d %" PRIu64 "\n", port, bit, level ? 1 : 0,
               the_board.around.now / NS_PER_US);
    }
}

bool board_fits(unsigned bus, double rate)
{
    const double wanted = the_board.around.buses[bus].wire.rate;
    char name[16];

    if (rate > wanted * (1.0 - RATE_TOLERANCE) && rate < wanted * (1.0 + RATE_TOLERANCE)) {
        return true;
    }
    snprintf(name, sizeof name, "%u", bus);
    report_fault(name, "the controller's bit rate is %.0f, the bus has %.0f", rate, wanted);
    return false;
}

static bool read_pin(const char *text, board_pin *pin)
{
    char rest;

    return sscanf(text, "%c%u%c", &pin->port, &pin->bit, &rest) == 2;
}

static bool read_option(const char *name, const char *text)
{
    unsigned number;
    uint32_t rate;
    uint32_t data_rate;
    int behind = 0;

    if (strcmp(name, "--rate") == 0) {
        const int read = sscanf(text, "%u=%" SCNu32 "/%" SCNu32, &number, &rate, &data_rate);

        if (read < 2 || number != the_board.around.count || number >= SURROUNDINGS_BUSES) {
            return false;
        }
        surroundings_add(&the_board.around, rate, read == 3 ? data_rate : rate);
        return true;
    }
    if (strcmp(name, "--input") == 0 && sscanf(text, "%u=%n", &number, &behind) == 1 &&
        behind != 0 && number < BOARD_INPUTS) {
        the_board.has_input[number] = true;
        return read_pin(text + behind, &the_board.inputs[number]);
    }
    if (strcmp(name, "--watch") == 0) {
        the_board.watching = true;
        return read_pin(text, &the_board.watched);
    }
    return board_option(name, text);
}

static void print_measures(void)
{
    const uint64_t total = the_core.now - (the_board.lives ? the_board.clock_start : 0u);

    if (the_board.clock_start != UINT64_MAX) {
        printf("measure clock_start_us %.3f\n", (double)the_board.clock_start / NS_PER_US);
    }
    printf("measure sleep_share %.4f\n",
           total == 0u ? 0.0 : (double)the_core.slept / (double)total);
    printf("measure cpu_us_per_frame %.3f\n",
           the_board.frames == 0u
               ? 0.0
               : (double)(total - the_core.slept) / NS_PER_US / (double)the_board.frames);
    printf("measure frames_heard %" PRIu64 "\n", the_board.around.heard);
    printf("measure overruns_counted %u\n", core_word(&the_core, &image, "can_overruns"));
    printf("measure stack_bytes %u\n", core_stack_bytes(&the_core));
}

int main(int argc, char **argv)
{
    if (argc < 3) {
        fputs(usage, stderr);
        return 2;
    }
    the_board.watched_level = -1;
    the_board.clock_start = UINT64_MAX;
    for (int i = 3; i < argc; i += 2) {
        if (i + 1 >= argc || !read_option(argv[i], argv[i + 1])) {
            fprintf(stderr, "not understood: %s\n%s", argv[i], usage);
            return 2;
        }
    }
    if (!script_read_file(&the_board.around.script, argv[2]) || !elf_image_read(&image, argv[1]) ||
        !core_init(&the_core, &board_chip, board_chip_power_on(), &image)) {
        return 2;
    }
    core_run(&the_core, the_board.around.script.end * NS_PER_US);
    board_print_waiting();
    print_measures();
    uc_close(the_core.uc);
    return 0;
}
