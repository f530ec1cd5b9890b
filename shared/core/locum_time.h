/* Times that wrap. For the core's own files. */
#ifndef LOCUM_TIME_H
#define LOCUM_TIME_H

#include <stdbool.h>
#include <stdint.h>

/* Longer delays than one comparison can hold are counted in laps. */
#define LAP_US 0x40000000u

static inline bool reached(uint32_t now_us, uint32_t due_us)
{
    return (uint32_t)(now_us - due_us) < 0x80000000u;
}

#endif
