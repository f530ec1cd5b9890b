/* Command line of avr_board. */
#ifndef OPTIONS_H
#define OPTIONS_H

#include <stdbool.h>
#include <stdint.h>

#include "world.h"

#define OPTIONS_MAX_INPUTS 16u

typedef struct {
    char port; /* 'B', 'C' or 'D' */
    uint8_t bit;
} board_pin;

typedef struct {
    board_pin cs;
    board_pin interrupt;
    uint32_t crystal_hz;
    uint32_t rate;
    uint32_t start_us;
} controller_option;

typedef struct {
    const char *firmware;
    const char *script;
    controller_option controllers[WORLD_MAX_BUSES];
    unsigned controller_count;
    board_pin inputs[OPTIONS_MAX_INPUTS];
    bool has_input[OPTIONS_MAX_INPUTS];
    board_pin watched;
    bool watching;
    world_remote remotes[WORLD_MAX_REMOTES];
    size_t remote_count;
    world_errors errors[WORLD_MAX_ERRORS];
    size_t error_count;
    spi_troubles troubles;
    uint32_t mutate_offset; /* byte of the flash, valid with mutate */
    uint8_t mutate_byte;
    bool mutate;
} options;

extern const char options_usage[];

/* False on anything that is not understood, with a message on standard error. */
bool options_read(options *options, int argc, char **argv);

#endif
