/*
 * The SPI master's driver with one device, an MCP2515 (Programming Guide, "SPI Master Driver";
 * without DMA a transaction has at most 64 bytes). A transaction takes what the guide measures for
 * polling ones, and its bytes. A reset takes the device along.
 */
#include <stdio.h>

#include "driver/gpio.h"
#include "driver/spi_master.h"
#include "esp_rom_sys.h"
#include "model.h"
#include "spi_device.h"

#define MOST_BYTES 64u
#define OVERHEAD_NS 8000u
#define NS_PER_SECOND 1000000000u

struct spi_device_t {
    void *chip; /* null: there is none */
    bool bus_is_up;
    bool added;
    int hz;
    bool selected;
    bool int_low;
};

static struct spi_device_t device;

void spi_begin(void)
{
    const model_spi *wires = &the_world.spi;

    if (wires->wired) {
        device.chip = mcp2515_device.make(wires->bus, wires->crystal_hz);
        pins_drive(wires->interrupt, true);
    }
}

void spi_end(void)
{
    if (device.chip != NULL) {
        mcp2515_device.print_waiting(device.chip);
    }
}

void spi_follow(void)
{
    bool low;

    if (device.chip == NULL) {
        return;
    }
    low = mcp2515_device.int_low(device.chip);
    if (low != device.int_low) {
        device.int_low = low;
        pins_drive(the_world.spi.interrupt, !low);
    }
}

void spi_pin_put(unsigned pin, bool level)
{
    if (device.chip == NULL || pin != the_world.spi.select || device.selected == !level) {
        return;
    }
    device.selected = !level;
    mcp2515_device.select(device.chip, device.selected, the_world.around.now);
    surroundings_advance(&the_world.around, the_world.around.now);
    spi_follow();
}

esp_err_t spi_bus_initialize(spi_host_device_t host, const spi_bus_config_t *config,
                             spi_dma_chan_t dma)
{
    const model_spi *wires = &the_world.spi;

    model_call();
    if (host != SPI2_HOST || dma != SPI_DMA_DISABLED || device.bus_is_up) {
        return ESP_ERR_INVALID_ARG;
    }
    if (!wires->wired || config->sclk_io_num != (int)wires->sck ||
        config->mosi_io_num != (int)wires->mosi || config->miso_io_num != (int)wires->miso) {
        printf("fault - the SPI is on other pins\n");
    }
    device.bus_is_up = true;
    return ESP_OK;
}

esp_err_t spi_bus_add_device(spi_host_device_t host, const spi_device_interface_config_t *config,
                             spi_device_handle_t *made)
{
    model_call();
    if (host != SPI2_HOST || !device.bus_is_up || device.added || config->queue_size < 1) {
        return ESP_ERR_INVALID_ARG;
    }
    if ((config->mode != 0u && config->mode != 3u) ||
        config->clock_speed_hz > (int)mcp2515_device.most_hz) {
        printf("fault - the SPI has mode %u and %d Hz\n", (unsigned)config->mode,
               config->clock_speed_hz);
    }
    device.added = true;
    device.hz = config->clock_speed_hz;
    *made = &device;
    return ESP_OK;
}

esp_err_t spi_device_polling_transmit(spi_device_handle_t which, spi_transaction_t *transaction)
{
    const uint8_t *out = transaction->tx_buffer;
    uint8_t *in = transaction->rx_buffer;
    const size_t count = transaction->length / 8u;

    if (transaction->length % 8u != 0u || count == 0u || count > MOST_BYTES) {
        return ESP_ERR_INVALID_ARG;
    }
    model_pass(OVERHEAD_NS);
    for (size_t i = 0; i < count; i++) {
        model_pass(8u * (uint64_t)NS_PER_SECOND / (uint64_t)which->hz);
        in[i] = which->chip != NULL && which->selected
                    ? mcp2515_device.exchange(which->chip, out[i], the_world.around.now)
                    : 0xFFu;
    }
    surroundings_advance(&the_world.around, the_world.around.now);
    spi_follow();
    return ESP_OK;
}

void esp_rom_delay_us(uint32_t us)
{
    model_pass((uint64_t)us * SURROUNDINGS_NS_PER_US);
}
