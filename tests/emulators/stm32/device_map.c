#include "device_map.h"

#include "report.h"

static const device nothing;

static const device *device_at(const board_model *board, uint32_t address)
{
    for (unsigned i = 0; i < board->chip->device_count; i++) {
        if (address - board->chip->devices[i].base < board->chip->devices[i].size) {
            return &board->chip->devices[i];
        }
    }
    return &nothing;
}

static const device *known_device_at(const board_model *board, uint32_t address)
{
    const device *found = device_at(board, address);

    if (found->kind == DEVICE_NOTHING ||
        (found->kind == DEVICE_FDCAN && found->index >= board->chip->controllers)) {
        report_fault("-", "no device at 0x%08X is modelled", address);
        return &nothing;
    }
    return found;
}

static bool in_reset(const board_model *board, unsigned controller)
{
    return (clock_tree_value(&board->clock, board->chip->can_reset_register) &
            board->chip->can_reset_bits[controller]) != 0u;
}

static bool answers(const board_model *board, const device *device, uint32_t address)
{
    if (device->enable_bits != 0u && (clock_tree_value(&board->clock, device->enable_register) &
                                      device->enable_bits) != device->enable_bits) {
        report_fault("-", "0x%08X accessed without its clock", address);
        return false;
    }
    return (device->kind != DEVICE_BXCAN && device->kind != DEVICE_FDCAN) ||
           !in_reset(board, device->index);
}

/* Power control of the H7 (RM0433, "PWR", from memory): the supply has settled as soon as CR3 was
 * written. */
static uint32_t power_read(const board_model *board, uint32_t offset)
{
    if (offset == 0x04u) {
        return board->power[3] != 0u ? 1u << 13 : 0u; /* CSR1: ACTVOSRDY */
    }
    return offset == 0x0Cu && board->power[3] == 0u ? 0x6u : board->power[offset / 4u % 8u];
}

uint32_t device_map_read(board_model *board, uint32_t address)
{
    const device *device = known_device_at(board, address);
    const uint32_t offset = address - device->base;

    if (!answers(board, device, address)) {
        return 0;
    }
    switch (device->kind) {
    case DEVICE_TIMER:
        return timers_read(&board->timers, device->index, offset);
    case DEVICE_WATCHDOG:
        return watchdog_read(&board->watchdog, offset);
    case DEVICE_BXCAN:
        return bxcan_read(&board->bxcans[device->index], offset);
    case DEVICE_FDCAN:
        return fdcan_read(&board->fdcans[device->index], offset);
    case DEVICE_MESSAGE_RAM:
        return fdcan_ram_read(&board->fdcan_ram, board->chip->fdcan, offset);
    case DEVICE_PWR:
        return power_read(board, offset);
    case DEVICE_SYSCFG:
        return ports_read_syscfg(&board->ports, offset);
    case DEVICE_EXTI:
        return ports_read_exti(&board->ports, offset);
    case DEVICE_GPIO:
        return ports_read_gpio(&board->ports, device->index, offset);
    case DEVICE_RCC:
        return clock_tree_read(&board->clock, offset);
    case DEVICE_FLASH:
        return offset == 0u ? board->clock.flash_acr : 0u;
    case DEVICE_CORE:
        return nvic_read(&board->nvic, offset);
    default:
        return 0;
    }
}

void device_map_write(board_model *board, uint32_t address, uint32_t value)
{
    const device *device = known_device_at(board, address);
    const uint32_t offset = address - device->base;

    if (!answers(board, device, address)) {
        return;
    }
    switch (device->kind) {
    case DEVICE_TIMER:
        timers_write(&board->timers, device->index, offset, value);
        break;
    case DEVICE_WATCHDOG:
        watchdog_write(&board->watchdog, offset, value, board->now);
        break;
    case DEVICE_BXCAN:
        bxcan_write(&board->bxcans[device->index], offset, value, board->now);
        break;
    case DEVICE_FDCAN:
        fdcan_write(&board->fdcans[device->index], offset, value, board->now);
        break;
    case DEVICE_MESSAGE_RAM:
        fdcan_ram_write(&board->fdcan_ram, board->chip->fdcan, offset, value);
        break;
    case DEVICE_PWR:
        board->power[offset / 4u % 8u] = value;
        break;
    case DEVICE_SYSCFG:
        ports_write_syscfg(&board->ports, offset, value);
        break;
    case DEVICE_EXTI:
        ports_write_exti(&board->ports, offset, value);
        break;
    case DEVICE_GPIO:
        ports_write_gpio(&board->ports, device->index, offset, value);
        break;
    case DEVICE_RCC:
        clock_tree_write(&board->clock, offset, value, board->now);
        for (unsigned i = 0; i < board->chip->controllers; i++) {
            if (in_reset(board, i)) {
                board->cans[i].operations->reset(board->cans[i].can, board->now);
            }
        }
        break;
    case DEVICE_FLASH:
        if (offset == 0u) {
            clock_tree_set_wait_states(&board->clock, value);
        }
        break;
    case DEVICE_CORE:
        nvic_write(&board->nvic, offset, value);
        break;
    default:
        break;
    }
}

uint32_t board_model_bus_hz(const board_model *board, uint32_t address)
{
    switch (device_at(board, address)->bus) {
    case BUS_APB1:
        return clock_tree_apb1(&board->clock);
    case BUS_FAST:
        return clock_tree_core(&board->clock);
    default:
        return 0; /* on the core's own bus */
    }
}
