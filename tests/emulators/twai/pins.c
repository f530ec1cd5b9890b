#include <stdio.h>

#include "driver/gpio.h"
#include "model.h"

typedef struct {
    gpio_mode_t mode;
    bool pulled_up;
    gpio_int_type_t edges;
    gpio_isr_t handler;
    void *args;
    bool out;
} pin;

static pin pins[MODEL_PINS];
static bool serviced;
static bool outside[MODEL_PINS]; /* has a level from outside */

static bool heeds(const pin *driven, bool level)
{
    return driven->edges == GPIO_INTR_ANYEDGE || (driven->edges == GPIO_INTR_NEGEDGE && !level) ||
           (driven->edges == GPIO_INTR_POSEDGE && level);
}

void pins_drive(unsigned number, bool level)
{
    const pin *driven = &pins[number];
    const bool changed = gpio_get_level((gpio_num_t)number) != (int)level;

    outside[number] = true;
    the_world.driven[number] = level;
    if (changed && driven->mode == GPIO_MODE_INPUT && heeds(driven, level) && serviced &&
        driven->handler != NULL) {
        driven->handler(driven->args);
    }
}

static void drive_input(void *owner, unsigned input, bool level)
{
    (void)owner;
    pins_drive(the_world.pin_of_input[input], level);
}

void pins_begin(void)
{
    the_world.around.pins = (surroundings_pins){drive_input, NULL};
    for (unsigned i = 0; i < MODEL_INPUTS; i++) {
        outside[the_world.pin_of_input[i]] = the_world.began;
    }
}

static void show(unsigned number)
{
    if (number == the_world.watched && pins[number].mode == GPIO_MODE_OUTPUT &&
        the_world.watched_level != (int)pins[number].out) {
        the_world.watched_level = pins[number].out;
        printf("pin IO%u %d %llu\n", number, pins[number].out ? 1 : 0,
               (unsigned long long)(the_world.around.now / SURROUNDINGS_NS_PER_US));
    }
}

esp_err_t gpio_config(const gpio_config_t *config)
{
    model_call();
    if (config->pin_bit_mask == 0u) {
        return ESP_ERR_INVALID_ARG;
    }
    for (unsigned i = 0; i < MODEL_PINS; i++) {
        if ((config->pin_bit_mask >> i & 1u) != 0u) {
            pins[i].mode = config->mode;
            pins[i].pulled_up = config->pull_up_en == GPIO_PULLUP_ENABLE;
            pins[i].edges = config->intr_type;
            show(i);
        }
    }
    return ESP_OK;
}

esp_err_t gpio_install_isr_service(int flags)
{
    (void)flags;
    serviced = true;
    return ESP_OK;
}

esp_err_t gpio_isr_handler_add(gpio_num_t number, gpio_isr_t handler, void *args)
{
    if (!serviced) {
        return ESP_ERR_INVALID_STATE;
    }
    pins[number].handler = handler;
    pins[number].args = args;
    return ESP_OK;
}

int gpio_get_level(gpio_num_t number)
{
    if (pins[number].mode != GPIO_MODE_INPUT) {
        return 0; /* "If the pad is not configured for input the returned value is always 0" */
    }
    return (outside[number] ? the_world.driven[number] : pins[number].pulled_up) ? 1 : 0;
}

esp_err_t gpio_set_level(gpio_num_t number, uint32_t level)
{
    pins[number].out = level != 0u;
    spi_pin_put((unsigned)number, level != 0u);
    show((unsigned)number);
    return ESP_OK;
}
