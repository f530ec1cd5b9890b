#include "core.h"

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cost.h"
#include "report.h"

#define NS_PER_SECOND 1000000000u
#define NS_PER_US 1000u
#define NOWHERE 0xFFFFFFF0u
#define SYSTEM 0xE000E000u
#define SYSTEM_SIZE 0x1000u
#define VTOR 0xD08u
#define CPACR 0xD88u

#define PAINT 0xA5u
/* So many bytes that were never written lie below the stack. */
#define UNTOUCHED_RUN 128u

/* A program that sleeps for less than a tenth of so long waits in circles. */
#define RESTLESS_NS (2u * (uint64_t)NS_PER_SECOND)
#define RESTLESS_SHARE 10u

/* From the interrupt request to the first instruction after the wait (assumed). */
#define WAKE_CYCLES 8u

static void look_at_chip(core *core)
{
    uint32_t lines[CHIP_IRQ_WORDS] = {0};

    core->kind->advance(core->chip, core->now);
    core->kind->lines(core->chip, lines);
    core->hz = core->kind->core_hz(core->chip);
    core->next = core->kind->next(core->chip);
    interrupts_set_lines(&core->interrupts, lines);
    if (!core->reset_asked && core->kind->wants_reset(core->chip, &core->reset_cause)) {
        core->reset_asked = true;
        core->reset_at = core->now;
    }
}

/* Lets the chip's events happen on the way to a moment. */
static void pass_to(core *core, uint64_t to)
{
    while (!core->reset_asked && core->next <= to) {
        core->now = core->next > core->now ? core->next : core->now;
        look_at_chip(core);
    }
    if (!core->reset_asked) {
        core->now = to;
    }
}

static void pass_cycles(core *core, unsigned cycles)
{
    if (core->hz == 0u) {
        report_fault("-", "the core has no clock");
        core->stopped = true;
        return;
    }
    core->rest += (uint64_t)cycles * NS_PER_SECOND;
    pass_to(core, core->now + core->rest / core->hz);
    core->rest %= core->hz;
}

static void watch_sleep(core *core)
{
    if (core->now - core->watched_from < RESTLESS_NS) {
        return;
    }
    if ((core->slept - core->watched_slept) * RESTLESS_SHARE < core->now - core->watched_from) {
        report_fault("-", "the program hardly sleeps");
        core->stopped = true;
    }
    core->watched_from = core->now;
    core->watched_slept = core->slept;
}

static bool is_masked(core *core)
{
    uint32_t primask = 0;

    uc_reg_read(core->uc, UC_ARM_REG_PRIMASK, &primask);
    return (primask & 1u) != 0u;
}

static unsigned flash_cycles(core *core, uint32_t address, uint32_t size)
{
    const chip_region *flash = &core->kind->regions[1];
    unsigned cycles = 0;

    if (core->kind->flash_cycles == NULL || address - flash->base >= flash->size) {
        return 0;
    }
    for (uint32_t at = address & ~3u; at < address + size; at += 4u) {
        cycles += core->kind->flash_cycles(core->chip, at);
    }
    return cycles;
}

static void on_flash_read(uc_engine *uc, uc_mem_type type, uint64_t address, int size,
                          int64_t value, void *owner)
{
    core *core = owner;

    (void)uc;
    (void)type;
    (void)value;
    if (!core->reset_asked) {
        pass_cycles(core, flash_cycles(core, (uint32_t)address, (uint32_t)size));
    }
}

static unsigned cycles_of(core *core, uint32_t address, uint32_t size)
{
    block_cost *const known = &core->costs[address / 2u % CORE_COSTS];
    uint8_t code[1024];

    if (known->size == 0u || known->address != address || known->size != size) {
        *known = (block_cost){address, size, size / 2u};
        if (size <= sizeof code && uc_mem_read(core->uc, address, code, size) == UC_ERR_OK) {
            known->cycles = cost_of_block(code, size);
        }
    }
    return known->cycles;
}

static void on_block(uc_engine *uc, uint64_t address, uint32_t size, void *owner)
{
    core *core = owner;
    unsigned cycles;

    if (core->stopped || core->reset_asked || core->now >= core->end) {
        core->slice_over = true;
        uc_emu_stop(uc); /* before the block: it comes again */
        return;
    }
    if (interrupts_wake(&core->interrupts) && !is_masked(core)) {
        report_fault("-", "an interrupt that is not masked");
    }
    cycles = cycles_of(core, (uint32_t)address, size);
    if ((uint32_t)address != core->block_end) {
        cycles += cost_of_jump(core->kind->wait_states(core->chip));
    }
    core->block_end = (uint32_t)address + size;
    pass_cycles(core, cycles + flash_cycles(core, (uint32_t)address, size));
}

static void on_exception(uc_engine *uc, uint32_t number, void *owner)
{
    core *core = owner;
    uint32_t pc = 0;

    uc_reg_read(uc, UC_ARM_REG_PC, &pc);
    report_fault("-", "exception %u inside the core at 0x%08X", number, pc);
    core->stopped = true;
    core->slice_over = true;
    uc_emu_stop(uc);
}

typedef struct {
    core *core;
    uint32_t base;
} device_owner;

static uint64_t read_device(uc_engine *uc, uint64_t offset, unsigned size, void *owner)
{
    const device_owner *device = owner;
    uint32_t value;

    (void)uc;
    if (device->core->reset_asked) {
        return 0;
    }
    pass_cycles(device->core, 2);
    look_at_chip(device->core);
    value = device->core->kind->read(device->core->chip, device->base + (uint32_t)offset, size);
    look_at_chip(device->core);
    return value;
}

static void write_device(uc_engine *uc, uint64_t offset, unsigned size, uint64_t value, void *owner)
{
    const device_owner *device = owner;

    (void)uc;
    if (device->core->reset_asked) {
        return; /* the core runs on to the end of the block */
    }
    pass_cycles(device->core, 2);
    look_at_chip(device->core);
    device->core->kind->write(device->core->chip, device->base + (uint32_t)offset, (uint32_t)value,
                              size);
    look_at_chip(device->core);
}

static uint64_t read_system(uc_engine *uc, uint64_t offset, unsigned size, void *owner)
{
    core *core = owner;
    uint32_t value = 0;

    (void)uc;
    (void)size;
    if (offset == VTOR) {
        return core->vector_table;
    }
    if (offset != CPACR && !interrupts_read(&core->interrupts, (uint32_t)offset, &value)) {
        report_fault("-", "core register 0xE000E%03X is not modelled", (unsigned)offset);
    }
    return value;
}

static void write_system(uc_engine *uc, uint64_t offset, unsigned size, uint64_t value, void *owner)
{
    core *core = owner;

    (void)uc;
    (void)size;
    if (offset == VTOR) {
        core->vector_table = (uint32_t)value;
    } else if (offset != CPACR &&
               !interrupts_write(&core->interrupts, (uint32_t)offset, (uint32_t)value)) {
        report_fault("-", "core register 0xE000E%03X is not modelled", (unsigned)offset);
    }
}

static bool place(void *owner, uint32_t address, const uint8_t *bytes, size_t size)
{
    core *core = owner;

    for (unsigned i = 0; i < CHIP_REGIONS; i++) {
        const chip_region *region = &core->kind->regions[i];

        if (core->memories[i] != NULL && address >= region->base && size <= region->size &&
            address - region->base <= region->size - size) {
            memcpy(core->memories[i] + (address - region->base), bytes, size);
            return true;
        }
    }
    fprintf(stderr, "the firmware does not fit: %u bytes at 0x%08X\n", (unsigned)size, address);
    return false;
}

static void forget_memory(core *core)
{
    for (unsigned i = 0; i < CHIP_REGIONS; i++) {
        if (core->kind->regions[i].keeps) {
            memset(core->memories[i], PAINT, core->kind->regions[i].size);
        }
    }
}

static bool map(core *core)
{
    static device_owner owners[CHIP_REGIONS];

    for (unsigned i = 0; i < CHIP_REGIONS; i++) {
        const chip_region *region = &core->kind->regions[i];

        if (region->size == 0u) {
            continue;
        }
        if (region->devices) {
            owners[i] = (device_owner){core, region->base};
            if (uc_mmio_map(core->uc, region->base, region->size, read_device, &owners[i],
                            write_device, &owners[i]) != UC_ERR_OK) {
                return false;
            }
            continue;
        }
        core->memories[i] = malloc(region->size);
        if (core->memories[i] == NULL ||
            uc_mem_map_ptr(core->uc, region->base, region->size,
                           region->keeps ? UC_PROT_ALL : UC_PROT_READ | UC_PROT_EXEC,
                           core->memories[i]) != UC_ERR_OK) {
            return false;
        }
        memset(core->memories[i], 0xFF, region->size);
    }
    return uc_mmio_map(core->uc, SYSTEM, SYSTEM_SIZE, read_system, core, write_system, core) ==
           UC_ERR_OK;
}

bool core_init(core *core, const chip_kind *kind, void *chip, const elf_image *image)
{
    uc_hook block;
    uc_hook exception;
    uc_hook flash;

    memset(core, 0, sizeof *core);
    core->kind = kind;
    core->chip = chip;
    if (uc_open(UC_ARCH_ARM, UC_MODE_THUMB | UC_MODE_MCLASS, &core->uc) != UC_ERR_OK ||
        uc_ctl_set_cpu_model(core->uc, kind->cpu_model) != UC_ERR_OK || !map(core) ||
        uc_hook_add(core->uc, &block, UC_HOOK_BLOCK, on_block, core, 1, 0) != UC_ERR_OK ||
        uc_hook_add(core->uc, &exception, UC_HOOK_INTR, on_exception, core, 1, 0) != UC_ERR_OK) {
        fprintf(stderr, "the processor emulation could not be set up\n");
        return false;
    }
    if (kind->flash_cycles != NULL &&
        uc_hook_add(core->uc, &flash, UC_HOOK_MEM_READ, on_flash_read, core, kind->regions[1].base,
                    kind->regions[1].base + kind->regions[1].size - 1u) != UC_ERR_OK) {
        fprintf(stderr, "the flash could not be watched\n");
        return false;
    }
    forget_memory(core);
    return elf_image_load(image, core, place);
}

static uint32_t vector(core *core, unsigned number)
{
    uint32_t value = 0;

    (void)uc_mem_read(core->uc, core->vector_table + 4u * number, &value, sizeof value);
    return value;
}

/* The core's registers as after a reset; returns the address at which it begins. */
static uint32_t begin(core *core)
{
    const uint32_t unmasked = 0;
    uint32_t stack_top;

    if (core->kind->prepare != NULL) {
        core->kind->prepare(core->chip, core->memories);
    }
    core->vector_table = core->kind->vectors;
    stack_top = vector(core, 0);

    uc_reg_write(core->uc, UC_ARM_REG_SP, &stack_top);
    uc_reg_write(core->uc, UC_ARM_REG_PRIMASK, &unmasked);
    memset(&core->interrupts, 0, sizeof core->interrupts);
    memset(core->costs, 0, sizeof core->costs); /* the program may be copied anew */
    return vector(core, 1);
}

static void sleep_until_woken(core *core)
{
    const uint64_t from = core->now;

    while (!interrupts_wake(&core->interrupts) && core->now < core->end && !core->reset_asked) {
        pass_to(core, core->next < core->end ? core->next : core->end);
    }
    core->slept += core->now - from;
    pass_cycles(core, WAKE_CYCLES);
}

static uint32_t start_anew(core *core)
{
    printf("reset %" PRIu64 "\n", core->reset_at / NS_PER_US);
    if (core->reset_cause == LOCUM_RESET_POWER) {
        forget_memory(core);
    }
    core->reset_asked = false;
    core->kind->reset(core->chip, core->reset_cause);
    look_at_chip(core);
    return begin(core);
}

void core_run(core *core, uint64_t end)
{
    uint32_t pc = begin(core);

    core->end = end;
    look_at_chip(core);
    while (!core->stopped && core->now < end) {
        uc_err error;

        if (core->reset_asked) {
            pc = start_anew(core);
        }
        core->slice_over = false;
        watch_sleep(core);
        error = uc_emu_start(core->uc, pc | 1u, NOWHERE, 0, 0);
        uc_reg_read(core->uc, UC_ARM_REG_PC, &pc);
        if (error != UC_ERR_OK) {
            report_fault("-", "the core stopped at 0x%08X: %s", pc, uc_strerror(error));
            core->stopped = true;
        } else if (!core->slice_over && !core->reset_asked) {
            sleep_until_woken(core);
            core->block_end = pc;
        }
    }
}

uint32_t core_word(core *core, const elf_image *image, const char *symbol)
{
    uint32_t address;
    uint32_t value = 0;

    if (elf_image_symbol(image, symbol, &address)) {
        (void)uc_mem_read(core->uc, address, &value, sizeof value);
    }
    return value;
}

unsigned core_stack_bytes(core *core)
{
    const uint32_t top = vector(core, 0);
    uint32_t lowest = top;
    uint8_t byte;

    for (uint32_t at = top; lowest - at < UNTOUCHED_RUN; at--) {
        if (uc_mem_read(core->uc, at - 1u, &byte, 1) != UC_ERR_OK) {
            break;
        }
        if (byte != PAINT) {
            lowest = at - 1u;
        }
    }
    return top - lowest;
}
