#include "machine.h"

#include <stdio.h>
#include <string.h>

#define PAINT 0xA5u
/* So many bytes that were never written lie below the stack. */
#define UNTOUCHED_RUN 128u

static bool place(void *owner, uint32_t address, const uint8_t *bytes, size_t size)
{
    machine *machine = owner;

    if (address < MACHINE_FLASH || size > machine->board->chip->flash_size ||
        address - MACHINE_FLASH > machine->board->chip->flash_size - size) {
        fprintf(stderr, "the firmware does not fit the flash: %u bytes at 0x%08X\n", (unsigned)size,
                address);
        return false;
    }
    memcpy(machine->flash + (address - MACHINE_FLASH), bytes, size);
    return true;
}

/* SYMBOL+OFFSET=BYTE or OFFSET=BYTE. */
static bool mutate(machine *machine, const elf_image *image, const char *text)
{
    char symbol[64];
    unsigned offset;
    unsigned byte;
    char rest;
    uint32_t base = MACHINE_FLASH;
    uint32_t at;

    if (sscanf(text, "%x=%x%c", &offset, &byte, &rest) != 2 &&
        (sscanf(text, "%63[^+]+%x=%x%c", symbol, &offset, &byte, &rest) != 3 ||
         !elf_image_symbol(image, symbol, &base))) {
        fprintf(stderr, "not understood, or no such symbol: %s\n", text);
        return false;
    }
    at = (base & ~1u) - MACHINE_FLASH + offset;
    if (at >= MACHINE_FLASH_SIZE || byte > 0xFFu) {
        fprintf(stderr, "outside the flash: %s\n", text);
        return false;
    }
    machine->flash[at] = (uint8_t)byte;
    return true;
}

bool machine_forget_ram(machine *machine)
{
    static uint8_t paint[MACHINE_RAM_SIZE];

    memset(paint, PAINT, sizeof paint);
    return uc_mem_write(machine->uc, MACHINE_RAM, paint, machine->board->chip->ram_size) ==
           UC_ERR_OK;
}

static bool map_memory(machine *machine)
{
    return uc_mem_map_ptr(machine->uc, MACHINE_FLASH, machine->board->chip->flash_size,
                          UC_PROT_READ | UC_PROT_EXEC, machine->flash) == UC_ERR_OK &&
           uc_mem_map(machine->uc, MACHINE_RAM, machine->board->chip->ram_size,
                      UC_PROT_READ | UC_PROT_WRITE) == UC_ERR_OK &&
           machine_forget_ram(machine);
}

bool machine_init(machine *machine, board_model *board, const elf_image *image)
{
    memset(machine, 0, sizeof *machine);
    memset(machine->flash, 0xFF, sizeof machine->flash);
    machine->board = board;
    machine->started_at = UINT64_MAX;
    (void)elf_image_symbol(image, "locum_start", &machine->start_symbol);
    if (!elf_image_load(image, machine, place) ||
        (board->options->mutate != NULL && !mutate(machine, image, board->options->mutate))) {
        return false;
    }
    if (uc_open(UC_ARCH_ARM, UC_MODE_THUMB | UC_MODE_MCLASS, &machine->uc) != UC_ERR_OK ||
        uc_ctl_set_cpu_model(machine->uc, board->chip->core) != UC_ERR_OK || !map_memory(machine) ||
        !machine_attach(machine)) {
        fprintf(stderr, "the processor emulation could not be set up\n");
        return false;
    }
    return true;
}

uint32_t machine_word(machine *machine, const elf_image *image, const char *symbol)
{
    uint32_t address;
    uint32_t value = 0;

    if (elf_image_symbol(image, symbol, &address)) {
        (void)uc_mem_read(machine->uc, address, &value, sizeof value);
    }
    return value;
}

unsigned machine_stack_bytes(machine *machine)
{
    static uint8_t ram[MACHINE_RAM_SIZE];
    const uint32_t size = machine->board->chip->ram_size;
    uint32_t top;
    uint32_t lowest;

    memcpy(&top, machine->flash, sizeof top);
    if (top < MACHINE_RAM || top - MACHINE_RAM > size ||
        uc_mem_read(machine->uc, MACHINE_RAM, ram, size) != UC_ERR_OK) {
        return 0;
    }
    top -= MACHINE_RAM;
    lowest = top;
    for (uint32_t at = top; at > 0u && lowest - at < UNTOUCHED_RUN; at--) {
        if (ram[at - 1u] != PAINT) {
            lowest = at - 1u;
        }
    }
    return top - lowest;
}
