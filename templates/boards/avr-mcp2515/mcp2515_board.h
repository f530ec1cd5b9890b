/* What the controllers' driver needs of the ATmega328P. */
#ifndef MCP2515_BOARD_H
#define MCP2515_BOARD_H

#include <avr/wdt.h>
#include <util/delay.h>

#include "pins.h"
#include "spi.h"

/* Passes a constant time without the watchdog. */
#define MCP2515_PAUSE(us)                                                                          \
    do {                                                                                           \
        wdt_reset();                                                                               \
        _delay_us(us);                                                                             \
    } while (0)

#endif
