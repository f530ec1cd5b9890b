/*
 * What a microcontroller with a Cortex-M core is made of, as the machine that runs its program sees
 * it. Times are nanoseconds since power-on.
 */
#ifndef CHIP_H
#define CHIP_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_core.h"

#define CHIP_IRQ_WORDS 5u
#define CHIP_REGIONS 6u

/* Memory, or registers (devices). */
typedef struct {
    uint32_t base;
    uint32_t size;
    bool devices;
    bool keeps; /* memory that resets leave alone and only a power-on forgets; otherwise flash */
} chip_region;

typedef struct {
    int cpu_model; /* of libunicorn */
    chip_region regions[CHIP_REGIONS];
    uint32_t vectors; /* where the vector table lies at a reset */
    uint64_t (*core_hz)(void *chip);
    unsigned (*wait_states)(void *chip);
    uint32_t (*read)(void *chip, uint32_t address, unsigned size);
    void (*write)(void *chip, uint32_t address, uint32_t value, unsigned size);
    /* Does all that happens up to a moment. */
    void (*advance)(void *chip, uint64_t now);
    /* The next moment at which something happens by itself; UINT64_MAX: never. */
    uint64_t (*next)(void *chip);
    /* Interrupt requests that are asserted now. */
    void (*lines)(void *chip, uint32_t words[CHIP_IRQ_WORDS]);
    /* Whether the chip is to be reset now, and why; then that was done. */
    bool (*wants_reset)(void *chip, locum_reset_cause *cause);
    void (*reset)(void *chip, locum_reset_cause cause);
    /* May be null: fills memory (one pointer per region, null for devices) before each start. */
    void (*prepare)(void *chip, uint8_t *const memories[CHIP_REGIONS]);
    /* May be null: cycles that the core waits for words of the second region, a flash. */
    unsigned (*flash_cycles)(void *chip, uint32_t address);
} chip_kind;

#endif
