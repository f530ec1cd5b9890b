/* Inputs, outputs and LED on lines of a GPIO chip (linux/gpio.h, version 2 of its interface). */
#include "board_parts.h"

#include <fcntl.h>
#include <linux/gpio.h>
#include <stdio.h>
#include <sys/ioctl.h>
#include <unistd.h>

#define PULL_NONE GPIO_V2_LINE_FLAG_BIAS_DISABLED
#define PULL_UP GPIO_V2_LINE_FLAG_BIAS_PULL_UP
#define PULL_DOWN GPIO_V2_LINE_FLAG_BIAS_PULL_DOWN

#define EDGES                                                                                      \
    (GPIO_V2_LINE_FLAG_INPUT | GPIO_V2_LINE_FLAG_EDGE_RISING | GPIO_V2_LINE_FLAG_EDGE_FALLING)

#define EVENTS_AT_ONCE 16u

typedef struct {
    uint32_t offset;
    uint64_t pull;
} input_line;

#define ROW(offset, pull) {(offset), PULL_##pull},

/* The last row keeps the table from being empty. */
static const input_line inputs[] = {BOARD_INPUTS(ROW){0, 0}};

static int input_lines = -1;
static int led_line = -1;

static int request(int chip, struct gpio_v2_line_request *request)
{
    (void)snprintf(request->consumer, sizeof request->consumer, "locum");
    if (ioctl(chip, GPIO_V2_GET_LINE_IOCTL, request) != 0) {
        board_fail("GPIO lines");
    }
    return request->fd;
}

/* Lines with this resistor. */
static void set_pull(struct gpio_v2_line_config *config, uint64_t pull)
{
    struct gpio_v2_line_config_attribute *const own = &config->attrs[config->num_attrs];

    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        if (inputs[i].pull == pull) {
            own->mask |= 1ull << i;
        }
    }
    if (own->mask != 0u) {
        own->attr.id = GPIO_V2_LINE_ATTR_ID_FLAGS;
        own->attr.flags = EDGES | pull;
        config->num_attrs++;
    }
}

static void request_inputs(int chip)
{
    struct gpio_v2_line_request wanted = {.num_lines = BOARD_INPUT_COUNT};

    for (uint32_t i = 0; i != BOARD_INPUT_COUNT; i++) {
        wanted.offsets[i] = inputs[i].offset;
    }
    wanted.config.flags = EDGES | PULL_NONE;
    set_pull(&wanted.config, PULL_UP);
    set_pull(&wanted.config, PULL_DOWN);
    input_lines = request(chip, &wanted);
    if (fcntl(input_lines, F_SETFL, O_NONBLOCK) != 0) {
        board_fail("GPIO lines");
    }
}

static void request_led(int chip)
{
    struct gpio_v2_line_request wanted = {.num_lines = 1};

    wanted.offsets[0] = BOARD_LED;
    wanted.config.flags = GPIO_V2_LINE_FLAG_OUTPUT;
    led_line = request(chip, &wanted);
}

#if LOCUM_OUTPUTS
typedef struct {
    uint32_t offset;
    uint64_t off; /* level */
} output_line;

#define OUTPUT_ROW(offset, off) {(offset), (off)},

static const output_line outputs[LOCUM_OUTPUTS] = {BOARD_OUTPUT_PINS(OUTPUT_ROW)};

static int output_lines = -1;

/* With their levels, so that none is driven before. */
static void request_outputs(int chip)
{
    struct gpio_v2_line_request wanted = {.num_lines = LOCUM_OUTPUTS};

    wanted.config.flags = GPIO_V2_LINE_FLAG_OUTPUT;
    wanted.config.num_attrs = 1;
    wanted.config.attrs[0].attr.id = GPIO_V2_LINE_ATTR_ID_OUTPUT_VALUES;
    wanted.config.attrs[0].mask = (1ull << LOCUM_OUTPUTS) - 1u;
    for (uint32_t i = 0; i != LOCUM_OUTPUTS; i++) {
        wanted.offsets[i] = outputs[i].offset;
        wanted.config.attrs[0].attr.values |= outputs[i].off << i;
    }
    output_lines = request(chip, &wanted);
}

void lines_put(locum_output_set levels)
{
    struct gpio_v2_line_values values = {.bits = levels, .mask = (1ull << LOCUM_OUTPUTS) - 1u};

    if (ioctl(output_lines, GPIO_V2_LINE_SET_VALUES_IOCTL, &values) != 0) {
        board_fail("GPIO outputs");
    }
}
#endif

void lines_start(void)
{
    int chip;

    if (BOARD_INPUT_COUNT == 0u && !BOARD_HAS_LED && LOCUM_OUTPUTS == 0u) {
        return;
    }
    chip = open(BOARD_GPIO_CHIP, O_RDWR | O_CLOEXEC);
    if (chip < 0) {
        board_fail(BOARD_GPIO_CHIP);
    }
#if LOCUM_OUTPUTS
    request_outputs(chip);
#endif
    if (BOARD_INPUT_COUNT != 0u) {
        request_inputs(chip);
    }
    if (BOARD_HAS_LED) {
        request_led(chip);
    }
    (void)close(chip);
}

void lines_poll(struct pollfd *poll)
{
    *poll = (struct pollfd){.fd = input_lines, .events = POLLIN};
}

locum_input_set lines_read(void)
{
    struct gpio_v2_line_event events[EVENTS_AT_ONCE];
    struct gpio_v2_line_values values = {.mask = (1ull << BOARD_INPUT_COUNT) - 1u};

    if (input_lines < 0) {
        return 0;
    }
    /* Events first, then levels: an edge in between ends the next wait. */
    while (read(input_lines, events, sizeof events) > 0) {
    }
    if (ioctl(input_lines, GPIO_V2_LINE_GET_VALUES_IOCTL, &values) != 0) {
        board_fail("GPIO inputs");
    }
    return (locum_input_set)values.bits;
}

void lines_light(bool lit)
{
    static bool shown;
    struct gpio_v2_line_values values = {.bits = lit ? 1u : 0u, .mask = 1u};

    if (led_line < 0 || shown == lit) {
        return;
    }
    shown = lit;
    (void)ioctl(led_line, GPIO_V2_LINE_SET_VALUES_IOCTL, &values);
}
