/*
 * Serial port 0 of the RP2040, a PL022 as master (pico-sdk, hardware_regs, spi.h): frames of 8 bits
 * in mode 0, FIFOs of 8. Everything else is reported.
 */
#ifndef RP2040_SPI_H
#define RP2040_SPI_H

#include <stdbool.h>
#include <stdint.h>

#define RP2040_SPI_FIFO 8u

typedef struct {
    uint8_t bytes[RP2040_SPI_FIFO];
    unsigned count;
} rp2040_fifo;

typedef struct {
    uint32_t cr0;
    uint32_t cr1;
    uint32_t cpsr;
    rp2040_fifo out;
    rp2040_fifo in;
    bool shifting; /* the first byte of out */
    uint64_t done_at;
} rp2040_spi;

void rp2040_spi_reset(rp2040_spi *spi);
uint32_t rp2040_spi_read(rp2040_spi *spi, uint32_t offset);
void rp2040_spi_write(rp2040_spi *spi, uint32_t offset, uint32_t value, uint64_t now,
                      uint64_t clock_hz);
bool rp2040_spi_is_busy(const rp2040_spi *spi);
uint64_t rp2040_spi_hz(const rp2040_spi *spi, uint64_t clock_hz);

/* Ends the bytes that are through by now; each is exchanged for one. */
void rp2040_spi_advance(rp2040_spi *spi, uint64_t now, uint64_t clock_hz,
                        uint8_t (*exchange)(void *owner, uint8_t out, uint64_t at), void *owner);

/* When the byte that is shifted is through; UINT64_MAX: none is. */
uint64_t rp2040_spi_next(const rp2040_spi *spi);

#endif
