/* What an emulated board with a Cortex-M core brings to main.c, and what it gets from there. */
#ifndef BOARD_H
#define BOARD_H

#include "chip.h"
#include "surroundings.h"

#define BOARD_INPUTS 16u

/* A pin as the data sheet names it: B7, or 1.7. */
typedef struct {
    char port;
    unsigned bit;
} board_pin;

typedef struct {
    surroundings around;
    board_pin inputs[BOARD_INPUTS];
    bool has_input[BOARD_INPUTS];
    board_pin watched;
    bool watching;
    int watched_level; /* -1: not put out yet */
    bool lives;        /* the program has started its clock since the last reset */
    uint64_t clock_start;
    uint64_t frames;
} board_state;

extern board_state the_board;

/* The chip, and its own state as after power-on. It sets the_board.around.pins and attaches its
 * controllers to the buses. */
extern const chip_kind board_chip;
void *board_chip_power_on(void);

/* An option that only this chip has; false if it has none of that name. */
bool board_option(const char *name, const char *text);

/* Prints what is still in the controllers. */
void board_print_waiting(void);

/* For the chip: the program's clock starts; a frame was asked for; a pin puts something out. */
void board_clock_starts(uint64_t at);
void board_counts_frame(void);
void board_shows(char port, unsigned bit, bool level);

/* A controller makes this bit rate: false, and a fault, if its bus has another one. */
bool board_fits(unsigned bus, double rate);

#endif
