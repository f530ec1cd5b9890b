/* The parts of the MCP2518FD driver that only know each other. */
#ifndef MCP2518FD_H
#define MCP2518FD_H

#include "mcp2518fd_registers.h"
#include "pins.h"
#include "rp2040_parts.h"
#include "spi.h"

/* ---- mcp2518fd_link.c: registers and memory over SPI ---- */

void link_reset(uint8_t bus);
/* Whole words. */
void link_read(uint8_t bus, uint32_t address, uint32_t *words, uint32_t count);
uint32_t link_read_word(uint8_t bus, uint32_t address);
void link_write(uint8_t bus, uint32_t address, const uint32_t *words, uint32_t count);
void link_write_word(uint8_t bus, uint32_t address, uint32_t word);
void link_write_byte(uint8_t bus, uint32_t address, uint8_t byte);

/* ---- mcp2518fd_start.c ---- */

/* From reset on the bus; false: no answer within 25 ms. At most 5 ms more while the bus is busy. */
bool controller_start(uint8_t bus);
/* Its parts for a controller that is in configuration mode. */
void controller_configure(uint8_t bus);
#if LOCUM_LISTENS
/* Lets frames in. */
void controller_listen(uint8_t bus);
#endif
/* Waits some bit times at most. */
void controller_join(uint8_t bus);
bool controller_takes_part(uint8_t bus);
bool controller_awaits_settings(uint8_t bus);
/* Has this board's bit timing and was told to take part. */
bool controller_is_configured(uint8_t bus);

/* ---- can.c ---- */

/* The controller was reset: it holds no frames. */
void can_forget(uint8_t bus);
bool can_answers(uint8_t bus);
#if LOCUM_GUARD_BUS_OFF
/* Sends what it was given while it was held back. */
void can_begin(uint8_t bus);

/* ---- can_bus_off.c ---- */

/* Restarted, but not to send yet. */
bool can_holds_back(uint8_t bus);
#endif

#endif
