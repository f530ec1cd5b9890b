#include "measure.h"

#include <stdio.h>

#define CYCLES_PER_US 16.0
#define BYTE_CYCLES 16u /* of the byte that came through, at half the CPU clock */

void measure_instruction(measure *measure, uint8_t byte, uint64_t selected_at)
{
    const bool load = (byte & 0xF8) == 0x40; /* LOAD TX BUFFER */
    const bool write = byte == 0x02;         /* WRITE, with the priority in front */

    if (measure->clock_start != 0 && (load || write)) {
        measure->loading = true;
        measure->load_begin = selected_at;
        measure->load_spi = measure->spi - BYTE_CYCLES;
    }
}

void measure_request(measure *measure, uint64_t now)
{
    if (!measure->loading) {
        return;
    }
    measure->loading = false;
    measure->sending += now - measure->load_begin;
    measure->sending_spi += measure->spi - measure->load_spi;
    if (measure->frames == 0) {
        measure->first_frame = now;
    }
    measure->frames++;
}

void measure_mark(measure *measure, uint8_t value, uint64_t now)
{
    if (value != 0) {
        measure->mark_begin = now;
        measure->mark_spi = measure->spi;
    } else if (measure->mark_begin != 0) {
        measure->marked += now - measure->mark_begin;
        measure->marked_spi += measure->spi - measure->mark_spi;
        measure->marks++;
        measure->mark_begin = 0;
    }
}

static void print_per_frame(const measure *measure, const char *name, uint64_t cycles)
{
    printf("measure %s %.3f\n", name,
           measure->frames == 0 ? 0.0 : (double)cycles / CYCLES_PER_US / (double)measure->frames);
}

void measure_print(const measure *measure, uint64_t end, unsigned stack_bytes)
{
    const uint64_t total = end - measure->clock_start;

    printf("measure clock_start_us %.3f\n", (double)measure->clock_start / CYCLES_PER_US);
    printf("measure first_frame_us %.3f\n", (double)measure->first_frame / CYCLES_PER_US);
    printf("measure awake_us %.3f\n", (double)(total - measure->slept) / CYCLES_PER_US);
    printf("measure sleep_share %.4f\n", (double)measure->slept / (double)total);
    print_per_frame(measure, "cpu_us_per_frame", total - measure->slept);
    print_per_frame(measure, "send_us_per_frame", measure->sending);
    print_per_frame(measure, "send_spi_us_per_frame", measure->sending_spi);
    print_per_frame(measure, "spi_us_per_frame", measure->spi);
    if (measure->marks != 0) {
        print_per_frame(measure, "marked_us_per_frame", measure->marked);
        print_per_frame(measure, "marked_spi_us_per_frame", measure->marked_spi);
    }
    printf("measure stack_bytes %u\n", stack_bytes);
}
