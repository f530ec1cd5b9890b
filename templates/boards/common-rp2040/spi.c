#include "spi.h"

#include "rp2040_parts.h"

#define PRESCALER 2u
#define FIFO_BYTES 8u

uint8_t spi_last;

void spi_start(uint32_t divisor)
{
    SPI_CPSR = PRESCALER;
    SPI_CR0 = SPI_CR0_8_BITS | SPI_CR0_RATE(divisor);
    SPI_CR1 = SPI_CR1_ENABLE;
}

uint8_t spi_exchange(uint8_t byte)
{
    SPI_DR = byte;
    while ((SPI_SR & SPI_SR_TAKEN) == 0u) {
    }
    return (uint8_t)SPI_DR;
}

/* Either may be null. Up to eight bytes are on their way at a time. */
static void transfer(const uint8_t *from, uint8_t *to, uint32_t count)
{
    uint32_t written = 0;
    uint32_t taken = 0;

    while (taken < count) {
        if (written < count && written - taken < FIFO_BYTES) {
            SPI_DR = from != 0 ? from[written] : 0u;
            written++;
        }
        if ((SPI_SR & SPI_SR_TAKEN) != 0u) {
            const uint8_t byte = (uint8_t)SPI_DR;

            if (to != 0) {
                to[taken] = byte;
            }
            taken++;
        }
    }
}

void spi_write_all(const uint8_t *from, uint8_t count)
{
    transfer(from, 0, count);
}

void spi_read_all(uint8_t *to, uint8_t count)
{
    transfer(0, to, count);
}
