/* ESP-IDF Programming Guide, "SPI Master Driver": what the port uses. */
#pragma once

#include <stddef.h>
#include <stdint.h>

#include "esp_err.h"

typedef enum { SPI1_HOST, SPI2_HOST } spi_host_device_t;
typedef enum { SPI_DMA_DISABLED } spi_dma_chan_t;

typedef struct {
    int mosi_io_num;
    int miso_io_num;
    int sclk_io_num;
    int quadwp_io_num;
    int quadhd_io_num;
} spi_bus_config_t;

typedef struct {
    uint8_t mode;
    int clock_speed_hz;
    int spics_io_num;
    int queue_size;
} spi_device_interface_config_t;

typedef struct {
    size_t length; /* bits */
    const void *tx_buffer;
    void *rx_buffer;
} spi_transaction_t;

typedef struct spi_device_t *spi_device_handle_t;

esp_err_t spi_bus_initialize(spi_host_device_t host, const spi_bus_config_t *config,
                             spi_dma_chan_t dma);
esp_err_t spi_bus_add_device(spi_host_device_t host, const spi_device_interface_config_t *config,
                             spi_device_handle_t *made);
esp_err_t spi_device_polling_transmit(spi_device_handle_t device, spi_transaction_t *transaction);
