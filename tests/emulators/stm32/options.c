#include "options.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

const char options_usage[] =
    "usage: stm32_board FIRMWARE.elf SCRIPT [options]\n"
    "  --chip f103            first; or g431, ...\n"
    "  --rate N=500000        bit rate of bus N; the controllers have the buses in order\n"
    "  --data-rate N=2000000  of a CAN FD bus, behind its bit rate\n"
    "  --can-pins N=PB8/PB9   where the transceiver of bus N is\n"
    "  --input N=B0           pin of input N\n"
    "  --watch C13            print the levels that a pin puts out\n"
    "  --alone yes            no other node, so nobody acknowledges\n"
    "  --crystal missing      the crystal never starts, or the microsecond at which it stops\n"
    "  --crystal-hz 8000000   its frequency\n"
    "  --mutate OFFSET=BYTE   change a byte of the flash before the start, both hexadecimal;\n"
    "                         OFFSET may be SYMBOL+OFFSET\n";

static bool read_pin(const char *text, board_pin *pin)
{
    unsigned number;
    char port;
    char rest;

    if (sscanf(text, "%c%u%c", &port, &number, &rest) != 2 || port < 'A' || port > 'D' ||
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

static bool read_rate(options *options, const char *text, uint32_t *rates)
{
    unsigned bus;
    uint32_t rate;
    char rest;

    if (sscanf(text, "%u=%" SCNu32 "%c", &bus, &rate, &rest) != 2 || rate == 0u ||
        bus >= options->chip->controllers) {
        return false;
    }
    rates[bus] = rate;
    if (rates == options->rates) {
        options->data_rates[bus] = rate;
        options->buses = bus >= options->buses ? bus + 1u : options->buses;
    }
    return true;
}

/* The first route of a controller is where it is by itself. */
static const can_route *find_route(const chip *chip, unsigned controller, const char *pins)
{
    for (unsigned i = 0; i < chip->route_count; i++) {
        const can_route *route = &chip->routes[i];

        if (route->controller == controller && (pins == NULL || strcmp(route->pins, pins) == 0)) {
            return route;
        }
    }
    return NULL;
}

static bool read_route(options *options, const char *text)
{
    unsigned bus;
    int behind = 0;

    if (sscanf(text, "%u=%n", &bus, &behind) != 1 || behind == 0 ||
        bus >= options->chip->controllers) {
        return false;
    }
    options->routes[bus] = find_route(options->chip, bus, text + behind);
    return options->routes[bus] != NULL;
}

static bool read_option(options *options, const char *name, const char *text)
{
    char rest;

    if (strcmp(name, "--chip") == 0) {
        options->chip = chip_find(text);
        return options->chip != NULL;
    }
    if (strcmp(name, "--rate") == 0) {
        return read_rate(options, text, options->rates);
    }
    if (strcmp(name, "--data-rate") == 0) {
        return read_rate(options, text, options->data_rates);
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
        return read_route(options, text);
    }
    if (strcmp(name, "--crystal-hz") == 0) {
        return sscanf(text, "%" SCNu32 "%c", &options->crystal_hz, &rest) == 1 &&
               options->crystal_hz != 0u;
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
    options->chip = chip_find("f103");
    options->crystal_hz = 8000000u;
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
    for (unsigned bus = 0; bus < options->buses; bus++) {
        if (options->routes[bus] == NULL) {
            options->routes[bus] = find_route(options->chip, bus, NULL);
        }
        if (options->rates[bus] == 0u) {
            fprintf(stderr, "bus %u has no rate\n", bus);
            return false;
        }
    }
    return true;
}
