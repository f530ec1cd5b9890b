/*
 * What your board has to provide: hardware.c is yours to fill in. port.c does the rest: it keeps
 * three frames of each bus in software and gives the controller one at a time, the most urgent
 * first.
 */
#ifndef HARDWARE_H
#define HARDWARE_H

#include "board_config.h"
#include "locum_port.h"

/* An acceptance filter: identifiers that agree with id in the bits of mask. Both have
 * LOCUM_ID_EXTENDED for 29 bits. */
typedef struct {
    uint32_t id;
    uint32_t mask;
} hardware_filter;

/* A bus: bit/s, sample point in thousandths of the bit, filters of what it has to let in. Letting
 * in more costs time only. */
typedef struct {
    uint32_t rate;
    uint32_t sample_point;
    const hardware_filter *filters;
    uint32_t filter_count;
} hardware_bus;

/* Clocks, watchdog (about a second), pins, timer. Once, first. */
void hardware_start(void);

/* Microseconds since the start, low 32 bits; never jumps or runs backwards. */
uint32_t hardware_now_us(void);

/* Sleeps for so long, at most; an edge of an input, a frame that has left or come, and a bus-off
 * end it, also those that happened since the last call. */
void hardware_sleep(uint32_t us);

void hardware_feed_watchdog(void);

/* Electrical levels, bit n for input n (board_config.h has their pins and pull resistors). */
locum_input_set hardware_inputs(void);

#if LOCUM_OUTPUTS
/* Levels, bit n for output n; hardware_start gave each pin the level that board_config.h has for it
 * before it made it an output. */
void hardware_outputs(locum_output_set levels);
#endif

void hardware_led(bool lit);

/* Starts a controller: retransmits by itself, receives through the filters. */
void hardware_can_start(uint8_t bus, const hardware_bus *settings);

/* Gives the controller a frame. False: it cannot take it now. Only called while it has none. */
bool hardware_can_give(const locum_frame *frame);

/* True once for each frame that has left since. */
bool hardware_can_has_sent(uint8_t bus);

/* Takes the oldest frame that was received; false: there is none. Remote frames are not given. */
bool hardware_can_take(uint8_t bus, locum_frame *frame);

/* Takes back what the controller was given, unless it is on the wire. True: it was taken back. */
bool hardware_can_abort(uint8_t bus);

/* True from a bus-off until the controller takes part again. */
bool hardware_can_is_off(uint8_t bus);

/* Lets it take part again after 128 times 11 recessive bits; it has lost what it was given. */
void hardware_can_restart(uint8_t bus);

#if LOCUM_GUARD_KEEP
/* LOCUM_RESET_BROWNOUT when in doubt. */
locum_reset_cause hardware_reset_cause(void);
#endif

#endif
