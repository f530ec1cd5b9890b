/* STM32F405, F407 and F446 (RM0090 and RM0390, "Memory map" and "Interrupts", from memory). */
#include <unicorn/unicorn.h>

#include "chip.h"

#define AHB1ENR 0x30
#define APB1ENR 0x40
#define APB2ENR 0x44
#define CAN1 (1u << 25)
#define CAN2 (1u << 26)

static const device devices[] = {
    {0x40000000u, 0x400u, DEVICE_TIMER, 0, BUS_APB1, APB1ENR, 1u << 0},
    {0x40003000u, 0x400u, DEVICE_WATCHDOG, 0, BUS_APB1, 0, 0},
    {0x40006400u, 0x400u, DEVICE_BXCAN, 0, BUS_APB1, APB1ENR, CAN1},
    {0x40006800u, 0x400u, DEVICE_BXCAN, 1, BUS_APB1, APB1ENR, CAN1 | CAN2},
    {0x40013800u, 0x400u, DEVICE_SYSCFG, 0, BUS_FAST, APB2ENR, 1u << 14},
    {0x40013C00u, 0x400u, DEVICE_EXTI, 0, BUS_FAST, 0, 0},
    {0x40020000u, 0x400u, DEVICE_GPIO, 0, BUS_CORE, AHB1ENR, 1u << 0},
    {0x40020400u, 0x400u, DEVICE_GPIO, 1, BUS_CORE, AHB1ENR, 1u << 1},
    {0x40020800u, 0x400u, DEVICE_GPIO, 2, BUS_CORE, AHB1ENR, 1u << 2},
    {0x40023800u, 0x400u, DEVICE_RCC, 0, BUS_CORE, 0, 0},
    {0x40023C00u, 0x400u, DEVICE_FLASH, 0, BUS_CORE, 0, 0},
    CORE_DEVICE,
};

static const can_route routes[] = {
    {0, "PA11/PA12", 0, 11, 0, 12, 9, 0, 0},
    {0, "PB8/PB9", 1, 8, 1, 9, 9, 0, 0},
    {1, "PB12/PB13", 1, 12, 1, 13, 9, 0, 0},
    {1, "PB5/PB6", 1, 5, 1, 6, 9, 0, 0},
};

#define F4                                                                                         \
    .core = UC_CPU_ARM_CORTEX_M4, .ram_size = 0x20000u, .clock = &clock_f4, .devices = devices,    \
    .device_count = sizeof devices / sizeof devices[0], .exti = EXTI_F1, .wide_tim2 = true,        \
    .watchdog_hz = 32000u, .routes = routes, .route_count = sizeof routes / sizeof routes[0],      \
    .controllers = 2, .can_reset_register = 0x20, .can_reset_bits = {CAN1, CAN2},                  \
    .line_irqs = {6, 7, 8, 9, 10, 23, 23, 23, 23, 23, 40, 40, 40, 40, 40, 40}, .tim2_irq = 28,     \
    .tim3_irq = 29, .can_irqs = {{19, 20, 21, 22}, {63, 64, 65, 66}}

const chip chip_f405 = {.name = "f405", .flash_size = 0x100000u, F4};

const chip chip_f446 = {.name = "f446", .flash_size = 0x80000u, F4};
