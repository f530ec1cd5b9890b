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

void spi_write_all(const uint8_t *from, uint8_t count)
{
    uint8_t written = 0;
    uint8_t taken = 0;

    while (taken < count) {
        if (written < count && written - taken < (int)FIFO_BYTES) {
            SPI_DR = from[written];
            written++;
        } else if ((SPI_SR & SPI_SR_TAKEN) != 0u) {
            (void)SPI_DR;
            taken++;
        }
    }
}
