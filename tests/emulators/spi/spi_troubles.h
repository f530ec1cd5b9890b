/* What ails controllers on an SPI, or their wires; options of emulated boards. Nanoseconds. */
#ifndef SPI_TROUBLES_H
#define SPI_TROUBLES_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SPI_TROUBLES_MAX 8u

#define SPI_TROUBLES_USAGE                                                                         \
    "  --lost-supply 0@12000\n"                                                                    \
    "               the controller of bus 0 is as after power-on from 12000 us on\n"               \
    "  --deaf 0@12000-13000\n"                                                                     \
    "               it hears nothing for that time; reads give ones\n"                             \
    "  --noise 0@12000-13000\n"                                                                    \
    "               it hears, and reads from it give anything for that time\n"

typedef enum { SPI_SOUND, SPI_LOST_SUPPLY, SPI_DEAF, SPI_NOISY } spi_ailment;

typedef struct {
    spi_ailment what;
    unsigned bus;
    uint64_t from;
    uint64_t until;
    bool done;
} spi_trouble;

typedef struct {
    spi_trouble all[SPI_TROUBLES_MAX];
    size_t count;
    uint32_t noise;
} spi_troubles;

/* One of the options above; false if it is another one, or not understood. */
bool spi_troubles_option(spi_troubles *troubles, const char *name, const char *value,
                         unsigned buses);

/* When the next controller loses its supply; UINT64_MAX: none. */
uint64_t spi_troubles_next(const spi_troubles *troubles);

/* A controller that has lost its supply by now; once each. */
bool spi_troubles_take(spi_troubles *troubles, uint64_t now, unsigned *bus);

/* Whether a controller is sound, deaf or noisy. */
spi_ailment spi_troubles_of(const spi_troubles *troubles, unsigned bus, uint64_t now);

/* Any bytes, the same in every run. */
uint8_t spi_troubles_noise(spi_troubles *troubles);

#endif
