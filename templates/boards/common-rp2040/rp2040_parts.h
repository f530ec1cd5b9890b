/* The parts of the RP2040 ports that only know each other. */
#ifndef RP2040_PARTS_H
#define RP2040_PARTS_H

#include "board_config.h"
#include "cortexm_board.h"
#include "rp2040_registers.h"

/* For functions that run before the program is in RAM. */
#define IN_FLASH __attribute__((section(".loader"), noinline))

/* Crystal, PLL, 125 MHz. CLK_SYS_SELECTED tells whether that went well. */
void clock_start(void);
void timer_start(void);
/* At least so long, without the watchdog; also before there is a timer. */
void board_pause(uint32_t us);
void pins_start(void);
/* 125 MHz / 2 / divisor. */
void spi_start(uint32_t divisor);
/* The controllers, and the SPI as fast as they bear it. */
void can_start(void);

#endif
