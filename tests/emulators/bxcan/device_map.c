#include "device_map.h"

#include "report.h"

#define APB2_FIRST 0x40010000u
#define AHB_FIRST 0x40018000u
#define FLASH_ACR 0x40022000u
#define CAN_RESET (1u << 25)

typedef enum { TIMER, WATCHDOG, CAN, AFIO, EXTI, GPIO, RCC, FLASH, CORE, NOTHING } device_kind;

typedef struct {
    uint32_t base;
    uint32_t size;
    device_kind kind;
    unsigned index;
    uint32_t apb1_bit; /* clock enable */
    uint32_t apb2_bit;
} device;

static const device devices[] = {
    {0x40000000u, 0x400u, TIMER, 0, 1u << 0, 0}, {0x40000400u, 0x400u, TIMER, 1, 1u << 1, 0},
    {0x40003000u, 0x400u, WATCHDOG, 0, 0, 0},    {0x40006400u, 0x400u, CAN, 0, 1u << 25, 0},
    {0x40010000u, 0x400u, AFIO, 0, 0, 1u << 0},  {0x40010400u, 0x400u, EXTI, 0, 0, 0},
    {0x40010800u, 0x400u, GPIO, 0, 0, 1u << 2},  {0x40010C00u, 0x400u, GPIO, 1, 0, 1u << 3},
    {0x40011000u, 0x400u, GPIO, 2, 0, 1u << 4},  {0x40021000u, 0x400u, RCC, 0, 0, 0},
    {0x40022000u, 0x400u, FLASH, 0, 0, 0},       {0xE000E000u, 0xD00u, CORE, 0, 0, 0},
};

static const device nothing = {0, 0, NOTHING, 0, 0, 0};

static const device *device_at(uint32_t address)
{
    for (unsigned i = 0; i < sizeof devices / sizeof devices[0]; i++) {
        if (address - devices[i].base < devices[i].size) {
            return &devices[i];
        }
    }
    report_fault("-", "no device at 0x%08X is modelled", address);
    return &nothing;
}

static bool answers(const board_model *board, const device *device, uint32_t address)
{
    if (!clock_tree_feeds(&board->clock, device->apb1_bit, device->apb2_bit)) {
        report_fault("-", "0x%08X accessed without its clock", address);
        return false;
    }
    return device->kind != CAN || (board->clock.apb1rstr & CAN_RESET) == 0u;
}

uint32_t device_map_read(board_model *board, uint32_t address)
{
    const device *device = device_at(address);
    const uint32_t offset = address - device->base;

    if (!answers(board, device, address)) {
        return 0;
    }
    switch (device->kind) {
    case TIMER:
        return timers_read(&board->timers, device->index, offset);
    case WATCHDOG:
        return watchdog_read(&board->watchdog, offset);
    case CAN:
        return bxcan_read(&board->can, offset);
    case AFIO:
        return ports_read_afio(&board->ports, offset);
    case EXTI:
        return ports_read_exti(&board->ports, offset);
    case GPIO:
        return ports_read_gpio(&board->ports, device->index, offset);
    case RCC:
        return clock_tree_read(&board->clock, offset);
    case FLASH:
        return address == FLASH_ACR ? board->clock.flash_acr : 0u;
    case CORE:
        return nvic_read(&board->nvic, offset);
    default:
        return 0;
    }
}

void device_map_write(board_model *board, uint32_t address, uint32_t value)
{
    const device *device = device_at(address);
    const uint32_t offset = address - device->base;

    if (!answers(board, device, address)) {
        return;
    }
    switch (device->kind) {
    case TIMER:
        timers_write(&board->timers, device->index, offset, value);
        break;
    case WATCHDOG:
        watchdog_write(&board->watchdog, offset, value, board->now);
        break;
    case CAN:
        bxcan_write(&board->can, offset, value, board->now);
        break;
    case AFIO:
        ports_write_afio(&board->ports, offset, value);
        break;
    case EXTI:
        ports_write_exti(&board->ports, offset, value);
        break;
    case GPIO:
        ports_write_gpio(&board->ports, device->index, offset, value);
        break;
    case RCC:
        clock_tree_write(&board->clock, offset, value, board->now);
        if ((board->clock.apb1rstr & CAN_RESET) != 0u) {
            bxcan_reset(&board->can, board->now);
        }
        break;
    case FLASH:
        if (address == FLASH_ACR) {
            clock_tree_set_wait_states(&board->clock, value);
        }
        break;
    case CORE:
        nvic_write(&board->nvic, offset, value);
        break;
    default:
        break;
    }
}

uint32_t board_model_bus_hz(const board_model *board, uint32_t address)
{
    if (address < APB2_FIRST) {
        return clock_tree_apb1(&board->clock);
    }
    return address < AHB_FIRST ? clock_tree_core(&board->clock) : 0u; /* 0: on the core's own bus */
}
