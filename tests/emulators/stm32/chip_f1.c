/* STM32F103C8 and F105 (RM0008, "Memory map" and "Interrupt and exception vectors"). */
#include <unicorn/unicorn.h>

#include "chip.h"

#define APB2ENR 0x18
#define APB1ENR 0x1C

static const device f103_devices[] = {
    {0x40000000u, 0x400u, DEVICE_TIMER, 0, BUS_APB1, APB1ENR, 1u << 0},
    {0x40000400u, 0x400u, DEVICE_TIMER, 1, BUS_APB1, APB1ENR, 1u << 1},
    {0x40003000u, 0x400u, DEVICE_WATCHDOG, 0, BUS_APB1, 0, 0},
    {0x40006400u, 0x400u, DEVICE_BXCAN, 0, BUS_APB1, APB1ENR, 1u << 25},
    {0x40010000u, 0x400u, DEVICE_SYSCFG, 0, BUS_FAST, APB2ENR, 1u << 0},
    {0x40010400u, 0x400u, DEVICE_EXTI, 0, BUS_FAST, 0, 0},
    {0x40010800u, 0x400u, DEVICE_GPIO, 0, BUS_FAST, APB2ENR, 1u << 2},
    {0x40010C00u, 0x400u, DEVICE_GPIO, 1, BUS_FAST, APB2ENR, 1u << 3},
    {0x40011000u, 0x400u, DEVICE_GPIO, 2, BUS_FAST, APB2ENR, 1u << 4},
    {0x40021000u, 0x400u, DEVICE_RCC, 0, BUS_CORE, 0, 0},
    {0x40022000u, 0x400u, DEVICE_FLASH, 0, BUS_CORE, 0, 0},
    CORE_DEVICE,
};

static const can_route f103_routes[] = {
    {0, "PA11/PA12", 0, 11, 0, 12, 0, 3u << 13, 0},
    {0, "PB8/PB9", 1, 8, 1, 9, 0, 3u << 13, 2u << 13},
};

const chip chip_f103 = {
    .name = "f103",
    .core = UC_CPU_ARM_CORTEX_M3,
    .flash_size = 0x10000u,
    .ram_size = 0x5000u,
    .clock = &clock_f1,
    .devices = f103_devices,
    .device_count = sizeof f103_devices / sizeof f103_devices[0],
    .has_afio = true,
    .exti = EXTI_F1,
    .watchdog_hz = 40000u,
    .routes = f103_routes,
    .route_count = sizeof f103_routes / sizeof f103_routes[0],
    .controllers = 1,
    .can_reset_register = 0x10,
    .can_reset_bits = {1u << 25},
    .line_irqs = {6, 7, 8, 9, 10, 23, 23, 23, 23, 23, 40, 40, 40, 40, 40, 40},
    .tim2_irq = 28,
    .tim3_irq = 29,
    .can_irqs = {{19, 20, 21, 22}},
};

static const device f105_devices[] = {
    {0x40000000u, 0x400u, DEVICE_TIMER, 0, BUS_APB1, APB1ENR, 1u << 0},
    {0x40000400u, 0x400u, DEVICE_TIMER, 1, BUS_APB1, APB1ENR, 1u << 1},
    {0x40003000u, 0x400u, DEVICE_WATCHDOG, 0, BUS_APB1, 0, 0},
    {0x40006400u, 0x400u, DEVICE_BXCAN, 0, BUS_APB1, APB1ENR, 1u << 25},
    {0x40006800u, 0x400u, DEVICE_BXCAN, 1, BUS_APB1, APB1ENR, 3u << 25},
    {0x40010000u, 0x400u, DEVICE_SYSCFG, 0, BUS_FAST, APB2ENR, 1u << 0},
    {0x40010400u, 0x400u, DEVICE_EXTI, 0, BUS_FAST, 0, 0},
    {0x40010800u, 0x400u, DEVICE_GPIO, 0, BUS_FAST, APB2ENR, 1u << 2},
    {0x40010C00u, 0x400u, DEVICE_GPIO, 1, BUS_FAST, APB2ENR, 1u << 3},
    {0x40011000u, 0x400u, DEVICE_GPIO, 2, BUS_FAST, APB2ENR, 1u << 4},
    {0x40021000u, 0x400u, DEVICE_RCC, 0, BUS_CORE, 0, 0},
    {0x40022000u, 0x400u, DEVICE_FLASH, 0, BUS_CORE, 0, 0},
    CORE_DEVICE,
};

static const can_route f105_routes[] = {
    {0, "PA11/PA12", 0, 11, 0, 12, 0, 3u << 13, 0},
    {0, "PB8/PB9", 1, 8, 1, 9, 0, 3u << 13, 2u << 13},
    {1, "PB12/PB13", 1, 12, 1, 13, 0, 1u << 22, 0},
    {1, "PB5/PB6", 1, 5, 1, 6, 0, 1u << 22, 1u << 22},
};

const chip chip_f105 = {
    .name = "f105",
    .core = UC_CPU_ARM_CORTEX_M3,
    .flash_size = 0x40000u,
    .ram_size = 0x10000u,
    .clock = &clock_f1,
    .devices = f105_devices,
    .device_count = sizeof f105_devices / sizeof f105_devices[0],
    .has_afio = true,
    .exti = EXTI_F1,
    .watchdog_hz = 40000u,
    .routes = f105_routes,
    .route_count = sizeof f105_routes / sizeof f105_routes[0],
    .controllers = 2,
    .can_reset_register = 0x10,
    .can_reset_bits = {1u << 25, 1u << 26},
    .line_irqs = {6, 7, 8, 9, 10, 23, 23, 23, 23, 23, 40, 40, 40, 40, 40, 40},
    .tim2_irq = 28,
    .tim3_irq = 29,
    .can_irqs = {{19, 20, 21, 22}, {63, 64, 65, 66}},
};
