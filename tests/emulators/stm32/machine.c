#include "machine.h"

#include <inttypes.h>
#include <string.h>

#include "cost.h"
#include "report.h"

#define NS_PER_US 1000u
#define NS_PER_SECOND 1000000000u
#define NOWHERE 0xFFFFFFF0u
/* Peripherals of all chips. */
#define DEVICES 0x40000000u
#define DEVICES_SIZE 0x20000000u
#define CORE 0xE000E000u
#define CORE_SIZE 0x1000u

/* From the interrupt request to the first instruction after the wait (assumed). */
#define WAKE_CYCLES 8u
/* Stacking and vector fetch, from the core's reference manual. */
#define ENTRY_CYCLES 12u

static void pass_time(machine *machine, unsigned cycles)
{
    const uint32_t hz = clock_tree_core(&machine->board->clock);
    uint64_t stall_end;

    if (hz == 0u) {
        report_fault("-", "the core has no clock");
        machine->board->stopped = true;
        return;
    }
    machine->rest += (uint64_t)cycles * NS_PER_SECOND;
    board_model_advance(machine->board, machine->board->now + machine->rest / hz);
    machine->rest %= hz;
    stall_end = board_model_stall_end(machine->board);
    if (stall_end != 0u) {
        board_model_advance(machine->board, stall_end);
    }
}

static bool masked(const machine *machine)
{
    uint32_t primask = 0;

    uc_reg_read(machine->uc, UC_ARM_REG_PRIMASK, &primask);
    return (primask & 1u) != 0u;
}

static bool exception_waits(const machine *machine)
{
    const nvic *nvic = &machine->board->nvic;

    return !machine->in_handler && nvic_wakes(nvic) && (nvic->nmi_pending || !masked(machine));
}

static void see_start(machine *machine)
{
    const timers *timers = &machine->board->timers;
    uint32_t shown = 0;

    uc_reg_read(machine->uc, UC_ARM_REG_R2, &shown); /* third argument: the time */
    if (timers->started_at != UINT64_MAX && machine->started_at == UINT64_MAX) {
        machine->started_at =
            timers->started_at + (uint64_t)(uint32_t)(shown - timers->start_count) * NS_PER_US;
    }
}

static unsigned cost_at(machine *machine, uint32_t address, uint32_t size)
{
    block_cost *cost;

    if (address - MACHINE_FLASH >= MACHINE_FLASH_SIZE) {
        return size / 2u; /* not in the flash */
    }
    cost = &machine->costs[(address - MACHINE_FLASH) / 2u];
    if (cost->size != size) {
        cost->size = (uint16_t)size;
        cost->cycles = (uint16_t)cost_of_block(machine->flash + (address - MACHINE_FLASH), size);
    }
    return cost->cycles;
}

static void on_block(uc_engine *uc, uint64_t address, uint32_t size, void *owner)
{
    machine *machine = owner;
    board_model *board = machine->board;
    unsigned cycles;

    if (board->stopped || board->reset_asked || board->now >= machine->end ||
        exception_waits(machine)) {
        machine->interrupted = true;
        uc_emu_stop(uc); /* before the block: it comes again */
        return;
    }
    if (machine->start_symbol != 0u && (uint32_t)address == (machine->start_symbol & ~1u)) {
        see_start(machine);
    }
    cycles = cost_at(machine, (uint32_t)address, size);
    if ((uint32_t)address != machine->block_end) {
        cycles += cost_of_jump(clock_tree_wait_states(&board->clock));
    }
    machine->block_end = (uint32_t)address + size;
    pass_time(machine, cycles);
}

static void on_exception(uc_engine *uc, uint32_t number, void *owner)
{
    machine *machine = owner;

    report_fault("-", "exception %u inside the core", number);
    machine->board->stopped = true;
    machine->interrupted = true;
    uc_emu_stop(uc);
}

static uint32_t access_device(machine *machine, uint32_t address, unsigned size)
{
    const uint32_t bus_hz = board_model_bus_hz(machine->board, address);

    if (size != 4u) {
        report_fault("-", "device at 0x%08X accessed by %u bytes", address, size);
    }
    pass_time(machine, cost_of_device(clock_tree_core(&machine->board->clock), bus_hz));
    return address;
}

static uint64_t read_device(uc_engine *uc, uint64_t offset, unsigned size, void *owner)
{
    machine *machine = owner;

    (void)uc;
    return board_model_read(machine->board,
                            access_device(machine, DEVICES + (uint32_t)offset, size));
}

static void write_device(uc_engine *uc, uint64_t offset, unsigned size, uint64_t value, void *owner)
{
    machine *machine = owner;

    (void)uc;
    board_model_write(machine->board, access_device(machine, DEVICES + (uint32_t)offset, size),
                      (uint32_t)value);
}

static uint64_t read_core(uc_engine *uc, uint64_t offset, unsigned size, void *owner)
{
    machine *machine = owner;

    (void)uc;
    (void)size;
    return board_model_read(machine->board, CORE + (uint32_t)offset);
}

static void write_core(uc_engine *uc, uint64_t offset, unsigned size, uint64_t value, void *owner)
{
    machine *machine = owner;

    (void)uc;
    (void)size;
    board_model_write(machine->board, CORE + (uint32_t)offset, (uint32_t)value);
}

bool machine_attach(machine *machine)
{
    uc_engine *uc = machine->uc;
    uc_hook block;
    uc_hook exception;

    return uc_mmio_map(uc, DEVICES, DEVICES_SIZE, read_device, machine, write_device, machine) ==
               UC_ERR_OK &&
           uc_mmio_map(uc, CORE, CORE_SIZE, read_core, machine, write_core, machine) == UC_ERR_OK &&
           uc_hook_add(uc, &block, UC_HOOK_BLOCK, on_block, machine, 1, 0) == UC_ERR_OK &&
           uc_hook_add(uc, &exception, UC_HOOK_INTR, on_exception, machine, 1, 0) == UC_ERR_OK;
}

static uint32_t vector(const machine *machine, unsigned number)
{
    uint32_t value;

    memcpy(&value, machine->flash + 4u * number, sizeof value);
    return value;
}

/* Pushes the frame of eight registers and goes to the handler (PM0056, "Exception entry"). */
static uint32_t enter_exception(machine *machine, uint32_t pc)
{
    const int ids[8] = {UC_ARM_REG_R0,  UC_ARM_REG_R1, UC_ARM_REG_R2, UC_ARM_REG_R3,
                        UC_ARM_REG_R12, UC_ARM_REG_LR, UC_ARM_REG_PC, UC_ARM_REG_XPSR};
    const unsigned number = nvic_take(&machine->board->nvic, masked(machine));
    const uint32_t exception_return = 0xFFFFFFF9u;
    uint32_t frame[8] = {0};
    uint32_t sp;

    for (unsigned i = 0; i < 8u; i++) {
        uc_reg_read(machine->uc, ids[i], &frame[i]);
    }
    frame[6] = pc;
    uc_reg_read(machine->uc, UC_ARM_REG_SP, &sp);
    sp = (sp - sizeof frame) & ~7u;
    if (uc_mem_write(machine->uc, sp, frame, sizeof frame) != UC_ERR_OK) {
        report_fault("-", "no room on the stack for exception %u", number);
        machine->board->stopped = true;
    }
    uc_reg_write(machine->uc, UC_ARM_REG_SP, &sp);
    uc_reg_write(machine->uc, UC_ARM_REG_LR, &exception_return);
    report_fault("-", "exception %u at %" PRIu64 " us", number, machine->board->now / NS_PER_US);
    machine->in_handler = true;
    pass_time(machine, ENTRY_CYCLES);
    return vector(machine, number);
}

static void sleep_until_woken(machine *machine)
{
    board_model *board = machine->board;
    const uint64_t from = board->now;

    while (!nvic_wakes(&board->nvic) && board->now < machine->end && !board->stopped &&
           !board->reset_asked) {
        board_model_advance(board, board->next < machine->end ? board->next : machine->end);
    }
    machine->slept += board->now - from;
    pass_time(machine, WAKE_CYCLES);
}

/* The core's registers as after a reset; returns the address at which it begins. */
static uint32_t begin(machine *machine)
{
    const uint32_t stack_top = vector(machine, 0);
    const uint32_t unmasked = 0;

    uc_reg_write(machine->uc, UC_ARM_REG_SP, &stack_top);
    uc_reg_write(machine->uc, UC_ARM_REG_PRIMASK, &unmasked);
    machine->in_handler = false;
    return vector(machine, 1);
}

void machine_run(machine *machine, uint64_t end)
{
    board_model *board = machine->board;
    uint32_t pc = begin(machine);

    machine->end = end;
    while (!board->stopped && board->now < end) {
        uc_err error;

        if (board->reset_asked) {
            if (board->reset_cause == LOCUM_RESET_POWER) {
                machine_forget_ram(machine);
            }
            board_model_reset(board);
            pc = begin(machine);
        }
        if (exception_waits(machine)) {
            pc = enter_exception(machine, pc);
        }
        machine->interrupted = false;
        error = uc_emu_start(machine->uc, pc | 1u, NOWHERE, 0, 0);
        uc_reg_read(machine->uc, UC_ARM_REG_PC, &pc);
        if (error != UC_ERR_OK) {
            report_fault("-", "the core stopped at 0x%08X: %s", pc, uc_strerror(error));
            board->stopped = true;
        } else if (!machine->interrupted && !board->reset_asked) {
            sleep_until_woken(machine);
            machine->block_end = pc;
        }
    }
}
