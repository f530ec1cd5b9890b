#include "options.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

const char options_usage[] =
    "usage: bxcan_board FIRMWARE.elf SCRIPT [options]\n"
    "  --rate 0=500000        bit rate of the bus\n"
    "  --input N=B0           pin of input N\n"
    "  --can-pins PA11/PA12   where the transceiver is, or PB8/PB9\n"
    "  --watch C13            print the levels that a pin puts out\n"
    "  --alone yes            no other node, so nobody acknowledges\n"
    "  --crystal missing      the crystal never starts, or the microsecond at which it stops\n"
    "  --mutate OFFSET=BYTE   change a byte of the flash before the start, both hexadecimal;\n"
    "                         OFFSET may be SYMBOL+OFFSET\n";

static bool read_pin(const char *text, board_pin *pin)
{
    unsigned number;
    char port;
    char rest;

    if (sscanf(text, "%c%u%c", &port, &number, &rest) != 2 || port < 'A' || port > 'C' ||
        number > 15u) {
        return false;
    }
    *pin = (board_pin){(uint8_t)(port - 'A'), (uint8_t)number};
    return true;
}

static bool read_input(options *options, const char *text)
{
    unsigned number;
    int behind = 0;

    if (sscanf(text, "%u=%n", &number, &behind) != 1 || behind == 0 ||
        number >= OPTIONS_MAX_INPUTS || !read_pin(text + behind, &options->inputs[number])) {
        return false;
    }
    options->has_input[number] = true;
    return true;
}

static bool read_option(options *options, const char *name, const char *text)
{
    char rest;

    if (strcmp(name, "--rate") == 0) {
        return sscanf(text, "0=%" SCNu32 "%c", &options->rate, &rest) == 1 && options->rate != 0u;
    }
    if (strcmp(name, "--input") == 0) {
        return read_input(options, text);
    }
    if (strcmp(name, "--watch") == 0) {
        options->watching = read_pin(text, &options->watched);
        return options->watching;
    }
    if (strcmp(name, "--alone") == 0) {
        options->alone = strcmp(text, "yes") == 0;
        return options->alone;
    }
    if (strcmp(name, "--can-pins") == 0) {
        options->can_on_b = strcmp(text, "PB8/PB9") == 0;
        return options->can_on_b || strcmp(text, "PA11/PA12") == 0;
    }
    if (strcmp(name, "--crystal") == 0) {
        options->crystal_missing = strcmp(text, "missing") == 0;
        return options->crystal_missing ||
               sscanf(text, "%" SCNu64 "%c", &options->crystal_stops_us, &rest) == 1;
    }
    if (strcmp(name, "--mutate") == 0) {
        options->mutate = text;
        return true;
    }
    return false;
}

bool options_read(options *options, int argc, char **argv)
{
    memset(options, 0, sizeof *options);
    options->rate = 500000u;
    options->crystal_stops_us = UINT64_MAX;
    if (argc < 3) {
        fputs(options_usage, stderr);
        return false;
    }
    options->firmware = argv[1];
    options->script = argv[2];
    for (int i = 3; i < argc; i += 2) {
        if (i + 1 >= argc || !read_option(options, argv[i], argv[i + 1])) {
            fprintf(stderr, "not understood: %s\n%s", argv[i], options_usage);
            return false;
        }
    }
    return true;
}
