/* What tells the chips apart: memories, devices, clocks, pins, interrupts. */
#ifndef CHIP_H
#define CHIP_H

#include "clock_tree.h"

#define CHIP_MAX_CONTROLLERS 3u

typedef enum {
    DEVICE_NOTHING,
    DEVICE_TIMER,
    DEVICE_WATCHDOG,
    DEVICE_BXCAN,
    DEVICE_FDCAN,
    DEVICE_MESSAGE_RAM,
    DEVICE_SYSCFG, /* AFIO on the F1 */
    DEVICE_EXTI,
    DEVICE_GPIO,
    DEVICE_RCC,
    DEVICE_FLASH,
    DEVICE_PWR,
    DEVICE_CORE
} device_kind;

typedef enum { BUS_CORE, BUS_APB1, BUS_FAST } device_bus;

typedef struct {
    uint32_t base;
    uint32_t size;
    device_kind kind;
    unsigned index;
    device_bus bus;
    uint16_t enable_register; /* of the RCC; with enable_bits 0: always on */
    uint32_t enable_bits;
} device;

typedef enum { EXTI_F1, EXTI_G0, EXTI_H7 } exti_kind;

/* A pair of pins that a controller can be connected to. */
typedef struct {
    unsigned controller;
    const char *pins; /* as --can-pins names them */
    uint8_t receive_port;
    uint8_t receive_pin;
    uint8_t transmit_port;
    uint8_t transmit_pin;
    unsigned function; /* alternate function; with AFIO: what the fields below hold */
    uint32_t remap_mask;
    uint32_t remap;
} can_route;

typedef struct {
    const char *name;
    int core; /* of the processor emulation */
    uint32_t flash_size;
    uint32_t ram_size;
    const clock_family *clock;
    const device *devices;
    unsigned device_count;
    bool has_afio; /* ports with four configuration bits per pin */
    exti_kind exti;
    bool wide_tim2;
    uint32_t watchdog_hz;
    const can_route *routes;
    unsigned route_count;
    unsigned controllers;
    const struct fdcan_kind *fdcan; /* NULL: bxCAN */
    uint16_t can_reset_register;
    uint32_t can_reset_bits[CHIP_MAX_CONTROLLERS];
    uint8_t line_irqs[16]; /* of the external lines */
    uint8_t tim2_irq;
    uint8_t tim3_irq;
    /* bxCAN: transmit, FIFO 0, FIFO 1, errors; FDCAN: line 0, line 1. */
    uint8_t can_irqs[CHIP_MAX_CONTROLLERS][4];
} chip;

/* NULL: there is none of that name. */
const chip *chip_find(const char *name);

extern const chip chip_f103;
extern const chip chip_f105;
extern const chip chip_f405;
extern const chip chip_f446;
extern const chip chip_g0b1;
extern const chip chip_g431;
extern const chip chip_g474;
extern const chip chip_h743;

#define CORE_DEVICE                                                                                \
    {                                                                                              \
        0xE000E000u, 0xD10u, DEVICE_CORE, 0, BUS_CORE, 0, 0                                        \
    }

#endif
