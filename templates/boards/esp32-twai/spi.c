#include "spi.h"

#include "board_parts.h"
#include "mcp2515_registers.h"

#include "driver/gpio.h"
#include "driver/spi_master.h"

/* The 10 MHz that a controller bears (DS20001801, "SPI Interface AC Characteristics"), divided from
 * 80 MHz. */
#define SPI_HZ 10000000

#define MOST_BYTES 32u
/* Header and data of a received frame are read ahead. */
#define FRAME_BYTES 13u

typedef struct {
    gpio_num_t select;
    gpio_num_t interrupt;
} controller_pins;

#define PINS(index, cs_port, cs_pin, int_port, int_pin, ...)                                       \
    {(gpio_num_t)(cs_pin), (gpio_num_t)(int_pin)},
static const controller_pins pins[BOARD_CONTROLLER_COUNT] = {BOARD_CONTROLLERS(PINS)};

static spi_device_handle_t device;
static uint8_t selected;

/* Of the instruction: bytes to go out, those that went already, those that were looked at. */
static uint8_t out[MOST_BYTES];
static uint8_t in[MOST_BYTES];
static uint8_t written;
static uint8_t moved;
static uint8_t looked;

void spi_start(void)
{
    const spi_bus_config_t bus = {.mosi_io_num = BOARD_SPI_MOSI,
                                  .miso_io_num = BOARD_SPI_MISO,
                                  .sclk_io_num = BOARD_SPI_SCK,
                                  .quadwp_io_num = -1,
                                  .quadhd_io_num = -1};
    const spi_device_interface_config_t interface = {
        .mode = 0, .clock_speed_hz = SPI_HZ, .spics_io_num = -1, .queue_size = 1};

    for (uint8_t i = 0; i < BOARD_CONTROLLER_COUNT; i++) {
        const gpio_config_t select = {.pin_bit_mask = 1ull << pins[i].select,
                                      .mode = GPIO_MODE_OUTPUT};

        (void)gpio_set_level(pins[i].select, 1u);
        board_must(gpio_config(&select));
        lines_wake_on_fall(pins[i].interrupt);
    }
    board_must(spi_bus_initialize(SPI2_HOST, &bus, SPI_DMA_DISABLED));
    board_must(spi_bus_add_device(SPI2_HOST, &interface, &device));
}

static void move(void)
{
    spi_transaction_t transaction = {.length = 8u * (size_t)(written - moved),
                                     .tx_buffer = &out[moved],
                                     .rx_buffer = &in[moved]};

    if (written != moved) {
        board_must(spi_device_polling_transmit(device, &transaction));
        moved = written;
    }
}

void pins_select(uint8_t controller)
{
    selected = controller;
    written = 0;
    moved = 0;
    looked = 0;
    (void)gpio_set_level(pins[controller].select, 0u);
}

void pins_deselect(void)
{
    move();
    (void)gpio_set_level(pins[selected].select, 1u);
}

bool pins_int_low(uint8_t controller)
{
    return gpio_get_level(pins[controller].interrupt) == 0;
}

void spi_write(uint8_t byte)
{
    if (written < MOST_BYTES) {
        out[written++] = byte;
    }
    looked = written;
}

void spi_write_all(const uint8_t *from, uint8_t count)
{
    for (uint8_t i = 0; i < count; i++) {
        spi_write(from[i]);
    }
}

uint8_t spi_read(void)
{
    if (looked == moved || looked == written) {
        const bool frame = written == 1u && (out[0] & ~MCP_READ_RX_BUFFERS) == MCP_READ_RX(0);

        for (uint8_t i = 0; i < (frame ? FRAME_BYTES : 1u) && written < MOST_BYTES; i++) {
            out[written++] = 0;
        }
        move();
    }
    return looked < MOST_BYTES ? in[looked++] : 0u;
}

uint8_t spi_taken(void)
{
    move();
    return written != 0u ? in[written - 1u] : 0u;
}
