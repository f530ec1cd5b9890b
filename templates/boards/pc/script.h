/*
 * The stimulus as text, one event per line, times in microseconds:
 *
 *   end T                          stop at T
 *   clock T                        the board's 32-bit clock shows T at power-on
 *   input T N LEVEL                electrical level of input N from T on
 *   traffic BUS ID DATA T P UNTIL  another node's frame, released at T, T + P, ... before UNTIL
 *   blocked BUS FROM UNTIL         no frame starts on the bus
 *   stall FROM UNTIL               the board does not step
 *   busoff BUS T                   the board's controller goes bus-off
 *   reset T CAUSE                  the board starts anew: power, watchdog or brownout
 *
 * ID is hexadecimal with bit 31 set for 29 bits, bit 30 for CAN FD and bit 29 for a frame that
 * switches the bit rate; DATA is hexadecimal, up to 64 bytes, or "-".
 */
#ifndef SCRIPT_H
#define SCRIPT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>

#include "locum_frame.h"

#define SCRIPT_MAX_INPUTS 4096u
#define SCRIPT_MAX_TRAFFIC 4096u
#define SCRIPT_MAX_SPANS 256u

typedef struct {
    uint64_t at;
    uint8_t input;
    bool level;
} script_input;

typedef struct {
    locum_frame frame;
    uint64_t next; /* next release; advances as the script runs */
    uint64_t period;
    uint64_t until;
} script_traffic;

typedef struct {
    uint64_t from;
    uint64_t until;
    uint8_t bus;
} script_span;

typedef struct {
    uint64_t at;
    uint8_t what; /* bus, or locum_reset_cause */
} script_event;

typedef struct {
    uint64_t end;
    uint32_t clock;
    script_input inputs[SCRIPT_MAX_INPUTS]; /* in the order of the file, times never fall */
    size_t input_count;
    script_traffic traffic[SCRIPT_MAX_TRAFFIC];
    size_t traffic_count;
    script_span blocked[SCRIPT_MAX_SPANS];
    size_t blocked_count;
    script_span stalls[SCRIPT_MAX_SPANS];
    size_t stall_count;
    script_event bus_offs[SCRIPT_MAX_SPANS]; /* times never fall, as for resets */
    size_t bus_off_count;
    script_event resets[SCRIPT_MAX_SPANS];
    size_t reset_count;
} script;

/* Reads a script; on a bad line writes a message to standard error and returns false. */
bool script_read(script *script, FILE *file);

/* Prints "frame BUS ID DATA ACCEPTED START END", or "-" for a start and end that never came. */
void script_print_frame(const locum_frame *frame, const char *accepted, const char *start,
                        const char *end);

#endif
