/* STM32G0B1 (RM0444, "Memory map" and "Interrupts", from memory). */
#include <unicorn/unicorn.h>

#include "chip.h"
#include "fdcan_map.h"

#define IOPENR 0x34
#define APBENR1 0x3C
#define FDCAN (1u << 12)

static const device devices[] = {
    {0x40000000u, 0x400u, DEVICE_TIMER, 0, BUS_APB1, APBENR1, 1u << 0},
    {0x40003000u, 0x400u, DEVICE_WATCHDOG, 0, BUS_APB1, 0, 0},
    {0x40006400u, 0x400u, DEVICE_FDCAN, 0, BUS_APB1, APBENR1, FDCAN},
    {0x40006800u, 0x400u, DEVICE_FDCAN, 1, BUS_APB1, APBENR1, FDCAN},
    {0x4000B400u, 0x6A0u, DEVICE_MESSAGE_RAM, 0, BUS_APB1, APBENR1, FDCAN},
    {0x40021000u, 0x400u, DEVICE_RCC, 0, BUS_CORE, 0, 0},
    {0x40021800u, 0x400u, DEVICE_EXTI, 0, BUS_CORE, 0, 0},
    {0x40022000u, 0x400u, DEVICE_FLASH, 0, BUS_CORE, 0, 0},
    {0x50000000u, 0x400u, DEVICE_GPIO, 0, BUS_CORE, IOPENR, 1u << 0},
    {0x50000400u, 0x400u, DEVICE_GPIO, 1, BUS_CORE, IOPENR, 1u << 1},
    {0x50000800u, 0x400u, DEVICE_GPIO, 2, BUS_CORE, IOPENR, 1u << 2},
    {0x50000C00u, 0x400u, DEVICE_GPIO, 3, BUS_CORE, IOPENR, 1u << 3},
    CORE_DEVICE,
};

static const can_route routes[] = {
    {0, "PB8/PB9", 1, 8, 1, 9, 3, 0, 0},     {0, "PD0/PD1", 3, 0, 3, 1, 3, 0, 0},
    {1, "PB0/PB1", 1, 0, 1, 1, 3, 0, 0},     {1, "PB5/PB6", 1, 5, 1, 6, 3, 0, 0},
    {1, "PB12/PB13", 1, 12, 1, 13, 3, 0, 0},
};

const chip chip_g0b1 = {
    .name = "g0b1",
    .core = UC_CPU_ARM_CORTEX_M0,
    .flash_size = 0x20000u,
    .ram_size = 0x20000u,
    .clock = &clock_g0,
    .devices = devices,
    .device_count = sizeof devices / sizeof devices[0],
    .exti = EXTI_G0,
    .wide_tim2 = true,
    .watchdog_hz = 32000u,
    .routes = routes,
    .route_count = sizeof routes / sizeof routes[0],
    .controllers = 2,
    .fdcan = &fdcan_fixed,
    .can_reset_register = 0x2C,
    .can_reset_bits = {FDCAN, FDCAN},
    .line_irqs = {5, 5, 6, 6, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7, 7},
    .tim2_irq = 15,
    .tim3_irq = 16,
    .can_irqs = {{21, 22}, {21, 22}},
};
