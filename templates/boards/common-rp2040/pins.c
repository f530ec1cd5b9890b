#include "pins.h"

#include "rp2040_parts.h"

#define SPI_MISO 16u
#define SPI_SCK 18u
#define SPI_MOSI 19u

#define PULL_NONE 0u
#define PULL_UP PAD_PULL_UP
#define PULL_DOWN PAD_PULL_DOWN

static void make_output(uint32_t pin, bool high)
{
    pin_put(pin, high);
    SIO_GPIO_OE_SET = 1u << pin;
    PAD(pin) = PAD_INPUT | PAD_DRIVE_4MA;
    IO_CTRL(pin) = IO_FUNCTION_SIO;
}

static void make_input(uint32_t pin, uint32_t pull)
{
    PAD(pin) = PAD_INPUT | PAD_SCHMITT | pull;
    IO_CTRL(pin) = IO_FUNCTION_SIO;
}

#if LOCUM_OUTPUTS
#define LEVEL_RAISE true
#define LEVEL_LOWER false

static void outputs_start(void)
{
#define OUTPUT(index, port, bit, off) make_output(bit, LEVEL_##off);
    BOARD_OUTPUTS(OUTPUT)
#undef OUTPUT
}

void outputs_write(locum_output_set levels)
{
#define OUTPUT(index, port, bit, off) pin_put(bit, (levels & (1u << (index))) != 0u);
    BOARD_OUTPUTS(OUTPUT)
#undef OUTPUT
}
#endif

void pins_start(void)
{
#if LOCUM_OUTPUTS
    outputs_start();
#endif
#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, ...)                                 \
    make_output(cs_bit, true);                                                                     \
    make_input(int_bit, PAD_PULL_UP);
#define INPUT(index, port, bit, pull)                                                              \
    make_input(bit, PULL_##pull);                                                                  \
    SET_BITS(IO_INTE_ADDRESS(bit)) = IO_EDGES(bit);
#define OUTPUT(port, bit) make_output(bit, true);
    BOARD_CONTROLLERS(CONTROLLER)
    BOARD_INPUTS(INPUT)
    BOARD_LED(OUTPUT)
#undef CONTROLLER
#undef INPUT
#undef OUTPUT
    /* The pull keeps a missing controller's answers at ones. */
    PAD(SPI_MISO) = PAD_INPUT | PAD_SCHMITT | PAD_PULL_UP;
    PAD(SPI_SCK) = PAD_DRIVE_4MA;
    PAD(SPI_MOSI) = PAD_DRIVE_4MA;
    IO_CTRL(SPI_MISO) = IO_FUNCTION_SPI;
    IO_CTRL(SPI_SCK) = IO_FUNCTION_SPI;
    IO_CTRL(SPI_MOSI) = IO_FUNCTION_SPI;
    NVIC_ISER = IRQ_IO_BANK0;
}

locum_input_set inputs_read(void)
{
    locum_input_set levels = 0;
    uint32_t high;

    /* Cleared before the look: an edge after the look ends the next wait. */
#define INPUT(index, port, bit, pull) IO_INTR(bit) = IO_EDGES(bit);
    BOARD_INPUTS(INPUT)
#undef INPUT
    NVIC_ICPR = IRQ_IO_BANK0;
    high = SIO_GPIO_IN;
#define INPUT(index, port, bit, pull)                                                              \
    if ((high & (1u << (bit))) != 0u) {                                                            \
        levels |= (locum_input_set)(1u << (index));                                                \
    }
    BOARD_INPUTS(INPUT)
#undef INPUT
    (void)high;
    return levels;
}

void pins_led(bool on)
{
#define LED(port, bit) pin_put(bit, on);
    BOARD_LED(LED)
#undef LED
}

void pins_heed(uint8_t controller, bool heed)
{
    const uint32_t pin = pins_of_controllers[controller].interrupt;

    if (heed) {
        SET_BITS(IO_INTE_ADDRESS(pin)) = IO_LEVEL_LOW(pin);
    } else {
        CLEAR_BITS(IO_INTE_ADDRESS(pin)) = IO_LEVEL_LOW(pin);
    }
}

#define CONTROLLER(index, cs_port, cs_bit, int_port, int_bit, ...) {cs_bit, int_bit},
const controller_pins pins_of_controllers[BOARD_CONTROLLER_COUNT] = {BOARD_CONTROLLERS(CONTROLLER)};
#undef CONTROLLER
