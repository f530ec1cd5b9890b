/* A CAN controller behind SPI: what a board and the script do to it. Times are nanoseconds. */
#ifndef SPI_DEVICE_H
#define SPI_DEVICE_H

#include <stdbool.h>
#include <stdint.h>

typedef struct {
    const char *name;
    uint32_t most_hz; /* of the SPI */
    /* Makes one for a bus and attaches it there. Null: no room. */
    void *(*make)(unsigned bus, uint32_t crystal_hz);
    void (*select)(void *device, bool selected, uint64_t now);
    uint8_t (*exchange)(void *device, uint8_t in, uint64_t now);
    bool (*int_low)(const void *device);
    /* Its supply was away. */
    void (*power)(void *device, uint64_t now);
    void (*print_waiting)(const void *device);
} spi_device_kind;

extern const spi_device_kind mcp2515_device;
extern const spi_device_kind mcp2518fd_device;

#endif
