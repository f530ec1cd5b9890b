#include "spi_troubles.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#define NS_PER_US 1000u

static spi_ailment named(const char *name)
{
    return strcmp(name, "--lost-supply") == 0 ? SPI_LOST_SUPPLY
           : strcmp(name, "--deaf") == 0      ? SPI_DEAF
           : strcmp(name, "--noise") == 0     ? SPI_NOISY
                                              : SPI_SOUND;
}

bool spi_troubles_option(spi_troubles *troubles, const char *name, const char *value,
                         unsigned buses)
{
    spi_trouble *trouble = &troubles->all[troubles->count];
    const spi_ailment what = named(name);

    if (what == SPI_SOUND || troubles->count == SPI_TROUBLES_MAX ||
        sscanf(value, "%u@%" SCNu64 "-%" SCNu64, &trouble->bus, &trouble->from, &trouble->until) !=
            (what == SPI_LOST_SUPPLY ? 2 : 3) ||
        trouble->bus >= buses) {
        return false;
    }
    trouble->what = what;
    trouble->from *= NS_PER_US;
    trouble->until *= NS_PER_US;
    troubles->count++;
    return true;
}

uint64_t spi_troubles_next(const spi_troubles *troubles)
{
    uint64_t next = UINT64_MAX;

    for (size_t i = 0; i < troubles->count; i++) {
        const spi_trouble *trouble = &troubles->all[i];

        if (!trouble->done && trouble->what == SPI_LOST_SUPPLY && trouble->from < next) {
            next = trouble->from;
        }
    }
    return next;
}

bool spi_troubles_take(spi_troubles *troubles, uint64_t now, unsigned *bus)
{
    for (size_t i = 0; i < troubles->count; i++) {
        spi_trouble *trouble = &troubles->all[i];

        if (!trouble->done && trouble->what == SPI_LOST_SUPPLY && trouble->from <= now) {
            trouble->done = true;
            *bus = trouble->bus;
            return true;
        }
    }
    return false;
}

spi_ailment spi_troubles_of(const spi_troubles *troubles, unsigned bus, uint64_t now)
{
    for (size_t i = 0; i < troubles->count; i++) {
        const spi_trouble *trouble = &troubles->all[i];

        if (trouble->bus == bus && now >= trouble->from && now < trouble->until) {
            return trouble->what;
        }
    }
    return SPI_SOUND;
}

uint8_t spi_troubles_noise(spi_troubles *troubles)
{
    troubles->noise = troubles->noise * 1664525u + 1013904223u;
    return (uint8_t)(troubles->noise >> 24);
}
