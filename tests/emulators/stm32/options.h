/* Command line of stm32_board. */
#ifndef OPTIONS_H
#define OPTIONS_H

#include <stdbool.h>
#include <stdint.h>

#include "chip.h"

#define OPTIONS_MAX_INPUTS 16u

typedef struct {
    uint8_t port; /* 0: A */
    uint8_t pin;
} board_pin;

typedef struct {
    const char *firmware;
    const char *script;
    const chip *chip;
    unsigned buses;
    uint32_t rates[CHIP_MAX_CONTROLLERS];
    uint32_t data_rates[CHIP_MAX_CONTROLLERS];     /* as the rate on a classic bus */
    const can_route *routes[CHIP_MAX_CONTROLLERS]; /* where the transceivers are */
    uint32_t crystal_hz;
    board_pin inputs[OPTIONS_MAX_INPUTS];
    bool has_input[OPTIONS_MAX_INPUTS];
    bool alone;    /* no other node: nobody acknowledges */
    bool watching; /* the pin below */
    board_pin watched;
    bool crystal_missing;
    uint64_t crystal_stops_us; /* UINT64_MAX: it does not */
    const char *mutate;        /* SYMBOL+OFFSET=BYTE or OFFSET=BYTE, or null */
} options;

extern const char options_usage[];

/* False on anything that is not understood, with a message on standard error. */
bool options_read(options *options, int argc, char **argv);

#endif
