#include "rp2040_spi.h"

#include <string.h>

#include "report.h"

#define NS_PER_SECOND 1000000000u

enum { CR0 = 0x00, CR1 = 0x04, DR = 0x08, SR = 0x0C, CPSR = 0x10 };

static void put(rp2040_fifo *fifo, uint8_t byte, const char *which)
{
    if (fifo->count == RP2040_SPI_FIFO) {
        report_fault("-", "the SPI's FIFO for %s overflows", which);
        return;
    }
    fifo->bytes[fifo->count++] = byte;
}

static uint8_t take(rp2040_fifo *fifo)
{
    const uint8_t byte = fifo->bytes[0];

    memmove(fifo->bytes, fifo->bytes + 1, --fifo->count);
    return byte;
}

void rp2040_spi_reset(rp2040_spi *spi)
{
    memset(spi, 0, sizeof *spi);
}

bool rp2040_spi_is_busy(const rp2040_spi *spi)
{
    return spi->shifting;
}

uint64_t rp2040_spi_hz(const rp2040_spi *spi, uint64_t clock_hz)
{
    return spi->cpsr == 0u ? 0u : clock_hz / spi->cpsr / ((spi->cr0 >> 8 & 0xFFu) + 1u);
}

static void begin(rp2040_spi *spi, uint64_t now, uint64_t clock_hz)
{
    const uint64_t hz = rp2040_spi_hz(spi, clock_hz);

    if (spi->shifting || spi->out.count == 0u || (spi->cr1 & 2u) == 0u || hz == 0u) {
        return;
    }
    if ((spi->cr0 & 0xFFu) != 7u || (spi->cr1 & ~2u) != 0u || spi->cpsr % 2u != 0u) {
        report_fault("-", "the SPI is not in the mode of the controllers");
    }
    spi->shifting = true;
    spi->done_at = now + 8u * (uint64_t)NS_PER_SECOND / hz;
}

uint32_t rp2040_spi_read(rp2040_spi *spi, uint32_t offset)
{
    switch (offset) {
    case CR0:
        return spi->cr0;
    case CR1:
        return spi->cr1;
    case DR:
        if (spi->in.count == 0u) {
            report_fault("-", "the SPI is read before a byte came in");
            return 0;
        }
        return take(&spi->in);
    case SR:
        return (spi->out.count == 0u ? 1u : 0u) | (spi->out.count < RP2040_SPI_FIFO ? 2u : 0u) |
               (spi->in.count > 0u ? 4u : 0u) | (spi->in.count == RP2040_SPI_FIFO ? 8u : 0u) |
               (spi->shifting ? 16u : 0u);
    case CPSR:
        return spi->cpsr;
    default:
        report_fault("-", "SPI register 0x%02X is not modelled", offset);
        return 0;
    }
}

void rp2040_spi_write(rp2040_spi *spi, uint32_t offset, uint32_t value, uint64_t now,
                      uint64_t clock_hz)
{
    switch (offset) {
    case CR0:
        spi->cr0 = value;
        break;
    case CR1:
        spi->cr1 = value;
        break;
    case DR:
        put(&spi->out, (uint8_t)value, "bytes to send");
        break;
    case CPSR:
        spi->cpsr = value & 0xFFu;
        break;
    default:
        report_fault("-", "SPI register 0x%02X is not modelled", offset);
        break;
    }
    begin(spi, now, clock_hz);
}

void rp2040_spi_advance(rp2040_spi *spi, uint64_t now, uint64_t clock_hz,
                        uint8_t (*exchange)(void *owner, uint8_t out, uint64_t at), void *owner)
{
    while (spi->shifting && spi->done_at <= now) {
        spi->shifting = false;
        put(&spi->in, exchange(owner, take(&spi->out), spi->done_at), "bytes that came in");
        begin(spi, spi->done_at, clock_hz);
    }
}

uint64_t rp2040_spi_next(const rp2040_spi *spi)
{
    return spi->shifting ? spi->done_at : UINT64_MAX;
}
