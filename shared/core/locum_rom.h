/*
 * Read-only tables. On AVR a const table would be copied to RAM at start-up, so it is kept in flash
 * and read with the load-from-program-memory instruction; everywhere else const is enough.
 */
#ifndef LOCUM_ROM_H
#define LOCUM_ROM_H

#include <stdint.h>

#if defined(__AVR__)
#include <avr/pgmspace.h>
#define LOCUM_ROM PROGMEM
#define LOCUM_ROM_U8(place) pgm_read_byte(&(place))
#define LOCUM_ROM_U16(place) pgm_read_word(&(place))
#define LOCUM_ROM_U32(place) pgm_read_dword(&(place))
#define LOCUM_ROM_U64(place)                                                                       \
    ((uint64_t)pgm_read_dword((const uint8_t *)&(place) + 4) << 32 |                               \
     pgm_read_dword((const uint8_t *)&(place)))
/* A function pointer of the given type. */
#define LOCUM_ROM_FN(type, place) ((type)pgm_read_ptr(&(place)))
#define LOCUM_ROM_COPY(to, from, count) memcpy_P((to), (from), (count))
#else
#include <string.h>
#define LOCUM_ROM
#define LOCUM_ROM_U8(place) (place)
#define LOCUM_ROM_U16(place) (place)
#define LOCUM_ROM_U32(place) (place)
#define LOCUM_ROM_U64(place) (place)
#define LOCUM_ROM_FN(type, place) (place)
#define LOCUM_ROM_COPY(to, from, count) ((void)memcpy((to), (from), (count)))
#endif

/* Memory that the program's start does not touch, for what must survive a reset. */
#if defined(__AVR__) || (defined(__arm__) && !defined(__linux__)) || defined(ESP_PLATFORM)
#define LOCUM_NOINIT __attribute__((section(".noinit")))
#else
#define LOCUM_NOINIT
#endif

#endif
