/*
 * The SPI master of the maker's driver (ESP-IDF Programming Guide, "SPI Master Driver"), for the
 * driver of the controllers, which thinks in bytes: what is written waits until something is to be
 * read, or until the chip select rises, and goes out in one transaction.
 */
#ifndef SPI_H
#define SPI_H

#include <stdbool.h>
#include <stdint.h>

#define ALWAYS_INLINE static inline __attribute__((always_inline))

void spi_start(void);

void pins_select(uint8_t controller);
void pins_deselect(void);
/* The controller holds its interrupt line low. */
bool pins_int_low(uint8_t controller);

void spi_write(uint8_t byte);
uint8_t spi_read(void);
void spi_write_all(const uint8_t *from, uint8_t count);

/* A byte that is followed by other work: here it just waits with the others. */
ALWAYS_INLINE void spi_begin_awaited(uint8_t byte)
{
    spi_write(byte);
}

ALWAYS_INLINE void spi_await(void)
{
}

/* What came in with the byte that was begun last. */
uint8_t spi_taken(void);

#endif
