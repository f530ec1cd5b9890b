/*
 * SPI master at half the CPU clock, blind-timed: a byte takes 16 cycles and the CPU's own clock
 * drives it, so counting cycles is exact and quicker than asking the status register. An interrupt
 * in between only makes a gap longer. SPIF is looked at only where other work fills a byte's time.
 */
#ifndef SPI_H
#define SPI_H

#include <avr/io.h>
#include <stdint.h>

/* Cycles from one write of SPDR to the next: 16 on the wire and a reserve of 2. */
#define SPI_BYTE_CYCLES 18

static inline void spi_init(void)
{
    DDRB |= _BV(DDB5) | _BV(DDB3) | _BV(DDB2); /* SCK, MOSI, and SS so that the SPI stays master */
    SPCR = _BV(SPE) | _BV(MSTR);               /* mode 0, most significant bit first */
    SPSR = _BV(SPI2X);
}

/* Starts a byte, to be followed by other work of any length and spi_await. */
__attribute__((always_inline)) static inline void spi_begin_awaited(uint8_t byte)
{
    (void)SPSR; /* read, so that the write to SPDR clears the SPIF of an earlier byte */
    SPDR = byte;
}

__attribute__((always_inline)) static inline void spi_await(void)
{
    while ((SPSR & _BV(SPIF)) == 0u) {
    }
}

/* What came in with the byte that spi_await waited for. */
__attribute__((always_inline)) static inline uint8_t spi_taken(void)
{
    return SPDR;
}

/* Starts a byte; the caller has to let SPI_BYTE_CYCLES pass before the next one. */
static inline void spi_begin(uint8_t byte)
{
    SPDR = byte;
}

static inline void spi_pause(void)
{
    __builtin_avr_delay_cycles(SPI_BYTE_CYCLES - 1);
}

static inline void spi_write(uint8_t byte)
{
    spi_begin(byte);
    spi_pause();
}

static inline uint8_t spi_read(void)
{
    spi_write(0);
    return SPDR;
}

/* Writes count bytes (at least 1); on return the last one is through. */
__attribute__((always_inline)) static inline void spi_write_all(const uint8_t *from, uint8_t count)
{
    __asm__ volatile("1: ld   __tmp_reg__, %a[from]+ \n\t" /* 2 cycles */
                     "   out  %[data], __tmp_reg__   \n\t" /* 1 */
                     "   rjmp .+0                    \n\t" /* 2 each */
                     "   rjmp .+0                    \n\t"
                     "   rjmp .+0                    \n\t"
                     "   rjmp .+0                    \n\t"
                     "   rjmp .+0                    \n\t"
                     "   rjmp .+0                    \n\t"
                     "   dec  %[count]               \n\t" /* 1 */
                     "   brne 1b                     \n\t" /* 2, or 1 at the end */
                     "   rjmp .+0                    \n\t"
                     "   nop                         \n\t"
                     : [from] "+e"(from), [count] "+r"(count)
                     : [data] "I"(_SFR_IO_ADDR(SPDR))
                     : "memory");
}

#endif
