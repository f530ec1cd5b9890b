/*
 * A chip with its maker's system, as far as the port uses it: tasks, a timer, pins, a watchdog and
 * the TWAI driver, in simulated time. After the ESP-IDF Programming Guide ("Two-Wire Automotive
 * Interface", "ESP Timer", "GPIO", "Watchdogs") and the FreeRTOS reference (task notifications).
 * Tasks give way only where they wait.
 */
#ifndef MODEL_H
#define MODEL_H

#include <stddef.h>

#include "driver/twai.h"
#include "esp_system.h"
#include "surroundings.h"

#define MODEL_PINS 64u
#define MODEL_INPUTS 16u
#define MODEL_KEPT 256u

/* How the controller on SPI is wired. */
typedef struct {
    bool wired;
    unsigned bus;
    uint32_t crystal_hz;
    unsigned select;
    unsigned interrupt;
    unsigned sck;
    unsigned mosi;
    unsigned miso;
} model_spi;

/* What a reset does not erase. */
typedef struct {
    surroundings around;
    unsigned pin_of_input[MODEL_INPUTS];
    bool driven[MODEL_PINS]; /* from outside */
    unsigned watched;
    int watched_level;
    model_spi spi;
    uint32_t clock_hz; /* of the controllers' bit timing */
    uint64_t slept;
    uint64_t clock_start;
    bool began;
    esp_reset_reason_t reason;
    unsigned char kept[MODEL_KEPT];
    bool has_kept;
} model_world;

extern model_world the_world;

/* Where the program keeps something over a reset, null if nowhere; compiled with the program. */
extern void *const model_kept;
extern const size_t model_kept_size;

/* Every call takes a little time. */
void model_call(void);
void model_pass(uint64_t ns);

/* The task that runs waits until ready(owner); false: it will never be woken. */
void model_wait(bool (*ready)(void *owner), void *owner);

/* In driver.c. */
void driver_begin(void);
void driver_end(void); /* prints what it still has */

/* In pins.c. */
void pins_begin(void);
void pins_drive(unsigned pin, bool level);

/* In spi.c. */
void spi_begin(void);
void spi_end(void);    /* prints what the device still has */
void spi_follow(void); /* its interrupt line after something happened */
void spi_pin_put(unsigned pin, bool level);

/* In system.c: the life of the program ends, the next begins. */
void model_reset(esp_reset_reason_t reason) __attribute__((noreturn));

#endif
