/* SPI master, mode 0. */
#ifndef SPI_H
#define SPI_H

#include "rp2040_registers.h"

/* Starts a byte, to be followed by other work of any length and spi_await. */
static inline void spi_begin_awaited(uint8_t byte)
{
    SPI_DR = byte;
}

extern uint8_t spi_last;

/* Waits for the byte's end. */
static inline void spi_await(void)
{
    while ((SPI_SR & SPI_SR_TAKEN) == 0u) {
    }
    spi_last = (uint8_t)SPI_DR;
}

/* What came in with the byte that spi_await waited for. */
static inline uint8_t spi_taken(void)
{
    return spi_last;
}

/* One byte out, one in. */
uint8_t spi_exchange(uint8_t byte);

static inline void spi_write(uint8_t byte)
{
    (void)spi_exchange(byte);
}

static inline uint8_t spi_read(void)
{
    return spi_exchange(0);
}

void spi_write_all(const uint8_t *from, uint8_t count);
void spi_read_all(uint8_t *to, uint8_t count);

#endif
