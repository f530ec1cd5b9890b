#include "nvic.h"

#include <string.h>

#include "report.h"

/* Offsets from 0xE000E000. */
enum {
    VTOR = 0xD08,
    ISER = 0x100,
    ICER = 0x180,
    ISPR = 0x200,
    ICPR = 0x280,
    IPR = 0x400,
    IPR_END = 0x42C
};

#define NMI 2u
#define FIRST_INTERRUPT 16u

void nvic_reset(nvic *nvic)
{
    memset(nvic, 0, sizeof *nvic);
}

/* The word of a register bank that an offset names, or null. */
static uint32_t *word_of(uint32_t *words, uint32_t offset, uint32_t bank)
{
    return offset >= bank && offset < bank + 4u * NVIC_WORDS ? &words[(offset - bank) / 4u] : NULL;
}

uint32_t nvic_read(nvic *nvic, uint32_t offset)
{
    const uint32_t *word;

    if ((word = word_of(nvic->enabled, offset, ISER)) != NULL ||
        (word = word_of(nvic->enabled, offset, ICER)) != NULL ||
        (word = word_of(nvic->pending, offset, ISPR)) != NULL ||
        (word = word_of(nvic->pending, offset, ICPR)) != NULL) {
        return *word;
    }
    report_fault("-", "core register 0xE000E%03X is not modelled", offset);
    return 0;
}

static void latch(nvic *nvic)
{
    for (unsigned i = 0; i < NVIC_WORDS; i++) {
        nvic->pending[i] |= nvic->lines[i];
    }
}

void nvic_write(nvic *nvic, uint32_t offset, uint32_t value)
{
    uint32_t *word;

    if ((word = word_of(nvic->enabled, offset, ISER)) != NULL ||
        (word = word_of(nvic->pending, offset, ISPR)) != NULL) {
        *word |= value;
    } else if ((word = word_of(nvic->enabled, offset, ICER)) != NULL ||
               (word = word_of(nvic->pending, offset, ICPR)) != NULL) {
        *word &= ~value;
    } else if (offset == VTOR) {
        if (value != 0x08000000u) {
            report_fault("-", "vectors at 0x%08X are not modelled", value);
        }
    } else if (offset < IPR || offset >= IPR_END || value != 0u) {
        report_fault("-", "core register 0xE000E%03X is not modelled", offset);
    }
    latch(nvic); /* what is still asserted is pending again */
}

void nvic_set_lines(nvic *nvic, const uint32_t lines[NVIC_WORDS], bool nmi)
{
    memcpy(nvic->lines, lines, sizeof nvic->lines);
    nvic->nmi_pending = nvic->nmi_pending || (nmi && !nvic->nmi_line);
    nvic->nmi_line = nmi;
    latch(nvic);
}

bool nvic_wakes(const nvic *nvic)
{
    bool wakes = nvic->nmi_pending;

    for (unsigned i = 0; i < NVIC_WORDS; i++) {
        wakes = wakes || (nvic->pending[i] & nvic->enabled[i]) != 0u;
    }
    return wakes;
}

unsigned nvic_take(nvic *nvic, bool masked)
{
    if (nvic->nmi_pending) {
        nvic->nmi_pending = false;
        return NMI;
    }
    for (unsigned irq = 0; !masked && irq < 32u * NVIC_WORDS; irq++) {
        const uint32_t bit = 1u << (irq % 32u);

        if ((nvic->pending[irq / 32u] & nvic->enabled[irq / 32u] & bit) != 0u) {
            nvic->pending[irq / 32u] &= ~bit;
            return FIRST_INTERRUPT + irq;
        }
    }
    return 0;
}
