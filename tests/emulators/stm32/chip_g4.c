/* STM32G431 and G474 (RM0440, "Memory map" and "Interrupts", from memory). */
#include <unicorn/unicorn.h>

#include "chip.h"
#include "fdcan_map.h"

#define AHB2ENR 0x4C
#define APB1ENR1 0x58
#define APB2ENR 0x60
#define FDCAN (1u << 25)

static const device devices[] = {
    {0x40000000u, 0x400u, DEVICE_TIMER, 0, BUS_APB1, APB1ENR1, 1u << 0},
    {0x40003000u, 0x400u, DEVICE_WATCHDOG, 0, BUS_APB1, 0, 0},
    {0x40006400u, 0x400u, DEVICE_FDCAN, 0, BUS_APB1, APB1ENR1, FDCAN},
    {0x40006800u, 0x400u, DEVICE_FDCAN, 1, BUS_APB1, APB1ENR1, FDCAN},
    {0x40006C00u, 0x400u, DEVICE_FDCAN, 2, BUS_APB1, APB1ENR1, FDCAN},
    {0x4000A400u, 0xA00u, DEVICE_MESSAGE_RAM, 0, BUS_APB1, APB1ENR1, FDCAN},
    {0x40010000u, 0x030u, DEVICE_SYSCFG, 0, BUS_FAST, APB2ENR, 1u << 0},
    {0x40010400u, 0x400u, DEVICE_EXTI, 0, BUS_FAST, 0, 0},
    {0x40021000u, 0x400u, DEVICE_RCC, 0, BUS_CORE, 0, 0},
    {0x40022000u, 0x400u, DEVICE_FLASH, 0, BUS_CORE, 0, 0},
    {0x48000000u, 0x400u, DEVICE_GPIO, 0, BUS_CORE, AHB2ENR, 1u << 0},
    {0x48000400u, 0x400u, DEVICE_GPIO, 1, BUS_CORE, AHB2ENR, 1u << 1},
    {0x48000800u, 0x400u, DEVICE_GPIO, 2, BUS_CORE, AHB2ENR, 1u << 2},
    CORE_DEVICE,
};

static const can_route routes[] = {
    {0, "PA11/PA12", 0, 11, 0, 12, 9, 0, 0}, {0, "PB8/PB9", 1, 8, 1, 9, 9, 0, 0},
    {1, "PB12/PB13", 1, 12, 1, 13, 9, 0, 0}, {1, "PB5/PB6", 1, 5, 1, 6, 9, 0, 0},
    {2, "PA8/PA15", 0, 8, 0, 15, 11, 0, 0},  {2, "PB3/PB4", 1, 3, 1, 4, 11, 0, 0},
};

#define G4                                                                                         \
    .core = UC_CPU_ARM_CORTEX_M4, .clock = &clock_g4, .devices = devices,                          \
    .device_count = sizeof devices / sizeof devices[0], .exti = EXTI_F1, .wide_tim2 = true,        \
    .watchdog_hz = 32000u, .routes = routes, .route_count = sizeof routes / sizeof routes[0],      \
    .fdcan = &fdcan_fixed, .can_reset_register = 0x38, .can_reset_bits = {FDCAN, FDCAN, FDCAN},    \
    .line_irqs = {6, 7, 8, 9, 10, 23, 23, 23, 23, 23, 40, 40, 40, 40, 40, 40}, .tim2_irq = 28,     \
    .tim3_irq = 29, .can_irqs = {{21, 22}, {86, 87}, {88, 89}}

const chip chip_g431 = {
    .name = "g431", .flash_size = 0x20000u, .ram_size = 0x8000u, .controllers = 1, G4};

const chip chip_g474 = {
    .name = "g474", .flash_size = 0x80000u, .ram_size = 0x20000u, .controllers = 3, G4};
