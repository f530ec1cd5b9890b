/* STM32H743 (RM0433, "Memory map" and "Interrupts", from memory). */
#include <unicorn/unicorn.h>

#include "chip.h"
#include "fdcan_map.h"

#define AHB4ENR 0xE0
#define APB1LENR 0xE8
#define APB1HENR 0xEC
#define APB4ENR 0xF4
#define FDCAN (1u << 8)

static const device devices[] = {
    {0x40000000u, 0x400u, DEVICE_TIMER, 0, BUS_APB1, APB1LENR, 1u << 0},
    {0x4000A000u, 0x400u, DEVICE_FDCAN, 0, BUS_APB1, APB1HENR, FDCAN},
    {0x4000A400u, 0x400u, DEVICE_FDCAN, 1, BUS_APB1, APB1HENR, FDCAN},
    {0x4000AC00u, 0x2800u, DEVICE_MESSAGE_RAM, 0, BUS_APB1, APB1HENR, FDCAN},
    {0x52002000u, 0x400u, DEVICE_FLASH, 0, BUS_FAST, 0, 0},
    {0x58000000u, 0x400u, DEVICE_EXTI, 0, BUS_APB1, 0, 0},
    {0x58000400u, 0x400u, DEVICE_SYSCFG, 0, BUS_APB1, APB4ENR, 1u << 1},
    {0x58004800u, 0x400u, DEVICE_WATCHDOG, 0, BUS_APB1, 0, 0},
    {0x58020000u, 0x400u, DEVICE_GPIO, 0, BUS_FAST, AHB4ENR, 1u << 0},
    {0x58020400u, 0x400u, DEVICE_GPIO, 1, BUS_FAST, AHB4ENR, 1u << 1},
    {0x58020800u, 0x400u, DEVICE_GPIO, 2, BUS_FAST, AHB4ENR, 1u << 2},
    {0x58024400u, 0x400u, DEVICE_RCC, 0, BUS_FAST, 0, 0},
    {0x58024800u, 0x400u, DEVICE_PWR, 0, BUS_FAST, 0, 0},
    CORE_DEVICE,
};

static const can_route routes[] = {
    {0, "PB8/PB9", 1, 8, 1, 9, 9, 0, 0},
    {0, "PA11/PA12", 0, 11, 0, 12, 9, 0, 0},
    {1, "PB12/PB13", 1, 12, 1, 13, 9, 0, 0},
    {1, "PB5/PB6", 1, 5, 1, 6, 9, 0, 0},
};

const chip chip_h743 = {
    .name = "h743",
    .core = UC_CPU_ARM_CORTEX_M7,
    .flash_size = 0x200000u,
    .ram_size = 0x20000u,
    .clock = &clock_h7,
    .devices = devices,
    .device_count = sizeof devices / sizeof devices[0],
    .exti = EXTI_H7,
    .wide_tim2 = true,
    .watchdog_hz = 32000u,
    .routes = routes,
    .route_count = sizeof routes / sizeof routes[0],
    .controllers = 2,
    .fdcan = &fdcan_configurable,
    .can_reset_register = 0x94,
    .can_reset_bits = {FDCAN, FDCAN},
    .line_irqs = {6, 7, 8, 9, 10, 23, 23, 23, 23, 23, 40, 40, 40, 40, 40, 40},
    .tim2_irq = 28,
    .tim3_irq = 29,
    .can_irqs = {{19, 21}, {20, 22}},
};
