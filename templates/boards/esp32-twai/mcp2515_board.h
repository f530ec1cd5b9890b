/* What the driver of the controller on SPI needs of an ESP32. */
#ifndef MCP2515_BOARD_H
#define MCP2515_BOARD_H

#include "board_config.h"
#include "spi.h"

#include "esp_rom_sys.h"

#define MCP2515_PAUSE(us) esp_rom_delay_us(us)

#endif
