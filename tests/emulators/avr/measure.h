/* What a run costs the microcontroller. Times are CPU cycles of 62.5 ns. */
#ifndef MEASURE_H
#define MEASURE_H

#include <stdbool.h>
#include <stdint.h>

typedef struct {
    uint64_t clock_start; /* Timer1 began to count; 0: not yet */
    uint64_t slept;       /* since then */
    uint64_t spi;         /* bytes on the SPI since then */
    uint64_t sending;     /* chip select falls before a load … rises behind the request to send */
    uint64_t frames;
    uint64_t first_frame;
    uint64_t load_begin; /* of the frame being loaded */
    uint64_t load_spi;   /* spi at that time */
    bool loading;
    uint64_t sending_spi; /* the part of spi that belongs to sending */
    uint64_t marked; /* stretch that the firmware marks in GPIOR1; so that it can be timed as it
                        was compiled, without a function call made for the purpose */
    uint64_t marked_spi;
    uint64_t marks;
    uint64_t mark_begin;
    uint64_t mark_spi; /* spi at that time */
} measure;

/* First byte behind a falling chip select, which fell at the given cycle. */
void measure_instruction(measure *measure, uint8_t byte, uint64_t selected_at);

/* The chip select rose; the instruction was a request to send. */
void measure_request(measure *measure, uint64_t now);

/* The firmware wrote GPIOR1: other than 0 begins a stretch, 0 ends it. */
void measure_mark(measure *measure, uint8_t value, uint64_t now);

void measure_print(const measure *measure, uint64_t end, unsigned stack_bytes);

#endif
