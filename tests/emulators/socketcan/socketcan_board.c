/*
 * Runs a program for a Linux computer with CAN interfaces on a model of what it calls, and prints
 * what leaves over its buses (script.h):
 *
 *   frame BUS ID DATA ACCEPTED START END   microseconds since power-on, three decimals
 *   fault BUS TEXT                         the program broke a rule
 *   reset T                                it was started anew, by the script or the service
 * manager life T                                 it reads the clock for the first time pin PIN
 * LEVEL T                        with --watch: what a line puts out from T on measure NAME VALUE
 *
 * ACCEPTED is the moment at which the kernel was given the frame. Exit code 2: bad arguments.
 */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#include "kernel.h"
#include "script_file.h"

static const char usage[] =
    "usage: socketcan_board PROGRAM SCRIPT LIBRARY [options]\n"
    "  --rate can0=500000/2000000/0   interface, bit rate, data rate, restart-ms; in order of "
    "buses\n"
    "  --input N=17                   line of input N\n"
    "  --watch 21                     print the levels that a line puts out\n"
    "  --watchdog 2000000             longest silence towards the service manager, us\n";

static kernel stage;

static bool read_rate(const char *text)
{
    kernel_interface *interface = &stage.interfaces[stage.around.count];
    uint32_t rate;
    uint32_t data_rate;
    unsigned restart_ms;

    if (stage.around.count == SURROUNDINGS_BUSES ||
        sscanf(text, "%15[^=]=%" SCNu32 "/%" SCNu32 "/%u", interface->name, &rate, &data_rate,
               &restart_ms) != 4) {
        return false;
    }
    interface->restart_ns = restart_ms * 1000000ull;
    interface->restart_at = UINT64_MAX;
    surroundings_add(&stage.around, rate, data_rate);
    return true;
}

static bool read_option(const char *name, const char *text)
{
    unsigned number;
    unsigned line;

    if (strcmp(name, "--rate") == 0) {
        return read_rate(text);
    }
    if (strcmp(name, "--input") == 0 && sscanf(text, "%u=%u", &number, &line) == 2 &&
        number < KERNEL_INPUTS && line < KERNEL_LINES) {
        stage.line_of_input[number] = line;
        return true;
    }
    if (strcmp(name, "--watch") == 0 && sscanf(text, "%u", &line) == 1 && line < KERNEL_LINES) {
        stage.watched = line;
        return true;
    }
    if (strcmp(name, "--watchdog") == 0 && sscanf(text, "%u", &number) == 1) {
        stage.watchdog_ns = number * 1000ull;
        return true;
    }
    return false;
}

/* The folder of the script is where the program keeps its file. */
static void set_environment(const char *program, const char *script, const char *library, int state)
{
    char text[512];

    snprintf(text, sizeof text, "%d", state);
    setenv("LOCUM_STUB", text, 1);
    setenv("LOCUM_STUB_PROGRAM", program, 1);
    setenv("LD_PRELOAD", library, 1);
    setenv("NOTIFY_SOCKET", "/run/systemd/notify", 1);
    snprintf(text, sizeof text, "%s", script);
    *strrchr(text, '/') = '\0';
    setenv("RUNTIME_DIRECTORY", text, 1);
    strcat(text, "/kept");
    (void)unlink(text);
}

int main(int argc, char **argv)
{
    int state;

    stage.watched = KERNEL_LINES - 1u;
    stage.watched_level = -1;
    for (int i = 4; i < argc; i += 2) {
        if (i + 1 >= argc || !read_option(argv[i], argv[i + 1])) {
            fprintf(stderr, "not understood: %s\n%s", argv[i], usage);
            return 2;
        }
    }
    if (argc < 4 || strchr(argv[2], '/') == NULL ||
        !script_read_file(&stage.around.script, argv[2])) {
        fputs(usage, stderr);
        return 2;
    }
    state = memfd_create("stub", 0);
    if (state < 0 || write(state, &stage, sizeof stage) != (ssize_t)sizeof stage) {
        return 2;
    }
    set_environment(argv[1], argv[2], argv[3], state);
    execv(argv[1], (char *const[]){argv[1], NULL});
    perror(argv[1]);
    return 2;
}
