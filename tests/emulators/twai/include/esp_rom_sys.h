#pragma once

#include <stdint.h>

void esp_rom_delay_us(uint32_t us);
