#include "mcp2518fd.h"

#define BYTES 4u

static void begin(uint8_t bus, uint32_t instruction, uint32_t address)
{
    const uint8_t bytes[2] = {(uint8_t)(instruction << 4 | address >> 8), (uint8_t)address};

    pins_select(bus);
    spi_write_all(bytes, sizeof bytes);
}

void link_reset(uint8_t bus)
{
    begin(bus, MCP_INSTRUCTION_RESET, 0);
    pins_deselect();
}

void link_read(uint8_t bus, uint32_t address, uint32_t *words, uint32_t count)
{
    begin(bus, MCP_INSTRUCTION_READ, address);
    spi_read_all((uint8_t *)words, (uint8_t)(BYTES * count)); /* lowest byte first, as here */
    pins_deselect();
}

uint32_t link_read_word(uint8_t bus, uint32_t address)
{
    uint32_t word;

    link_read(bus, address, &word, 1);
    return word;
}

void link_write(uint8_t bus, uint32_t address, const uint32_t *words, uint32_t count)
{
    begin(bus, MCP_INSTRUCTION_WRITE, address);
    spi_write_all((const uint8_t *)words,
                  (uint8_t)(BYTES * count)); /* lowest byte first, as here */
    pins_deselect();
}

void link_write_word(uint8_t bus, uint32_t address, uint32_t word)
{
    link_write(bus, address, &word, 1);
}

void link_write_byte(uint8_t bus, uint32_t address, uint8_t byte)
{
    begin(bus, MCP_INSTRUCTION_WRITE, address);
    spi_write(byte);
    pins_deselect();
}
