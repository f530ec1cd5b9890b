/*
 * The second stage of the boot. The chip's ROM copies the first 256 bytes of the flash to RAM,
 * checks that their last four are the CRC-32 of the others (datasheet of the RP2040, "Flash Second
 * Stage") and runs them. tools/image.c writes the checksum. Position-independent: no calls, no
 * variables.
 */
#include "rp2040_registers.h"

#define LOADER_VECTORS 0x10000100u
/* Even. 125 MHz / 4 is within what any flash bears with the command below. */
#define CLOCK_DIVISOR 4u
#define COMMAND_READ 0x03u

__attribute__((section(".boot2"), noreturn, used)) void boot2(void)
{
    SSI_ENABLE = 0;
    SSI_BAUDR = CLOCK_DIVISOR;
    SSI_CTRLR0 = SSI_CTRLR0_32_BITS | SSI_CTRLR0_EEPROM_READ;
    SSI_SPI_CTRLR0 = SSI_XIP_COMMAND(COMMAND_READ) | SSI_INSTRUCTION_8_BITS | SSI_ADDRESS_24_BITS;
    SSI_CTRLR1 = 0; /* one word at a time */
    SSI_ENABLE = 1;
    SCB_VTOR = LOADER_VECTORS;
    __asm volatile("ldr r1, [%0]\n\t"
                   "ldr r2, [%0, #4]\n\t"
                   "msr msp, r1\n\t"
                   "bx r2" ::"r"(LOADER_VECTORS)
                   : "r1", "r2", "memory");
    __builtin_unreachable();
}
