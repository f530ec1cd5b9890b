#include "interrupts.h"

#include <string.h>

enum { ISER = 0x100, ICER = 0x180, ISPR = 0x200, ICPR = 0x280 };

static bool in_bank(uint32_t offset, uint32_t bank, unsigned *word)
{
    *word = (offset - bank) / 4u;
    return offset >= bank && *word < CHIP_IRQ_WORDS;
}

bool interrupts_read(const interrupts *interrupts, uint32_t offset, uint32_t *value)
{
    unsigned word;

    if (in_bank(offset, ISER, &word) || in_bank(offset, ICER, &word)) {
        *value = interrupts->enabled[word];
        return true;
    }
    if (in_bank(offset, ISPR, &word) || in_bank(offset, ICPR, &word)) {
        *value = interrupts->pending[word];
        return true;
    }
    return false;
}

static void latch(interrupts *interrupts)
{
    for (unsigned i = 0; i < CHIP_IRQ_WORDS; i++) {
        interrupts->pending[i] |= interrupts->lines[i];
    }
}

bool interrupts_write(interrupts *interrupts, uint32_t offset, uint32_t value)
{
    unsigned word;

    if (in_bank(offset, ISER, &word)) {
        interrupts->enabled[word] |= value;
    } else if (in_bank(offset, ICER, &word)) {
        interrupts->enabled[word] &= ~value;
    } else if (in_bank(offset, ISPR, &word)) {
        interrupts->pending[word] |= value;
    } else if (in_bank(offset, ICPR, &word)) {
        interrupts->pending[word] &= ~value;
    } else {
        return false;
    }
    latch(interrupts); /* what is still asserted is pending again */
    return true;
}

void interrupts_set_lines(interrupts *interrupts, const uint32_t lines[CHIP_IRQ_WORDS])
{
    memcpy(interrupts->lines, lines, sizeof interrupts->lines);
    latch(interrupts);
}

bool interrupts_wake(const interrupts *interrupts)
{
    for (unsigned i = 0; i < CHIP_IRQ_WORDS; i++) {
        if ((interrupts->pending[i] & interrupts->enabled[i]) != 0u) {
            return true;
        }
    }
    return false;
}
