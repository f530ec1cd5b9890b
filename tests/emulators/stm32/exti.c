/*
 * External lines as the program sees them: RM0008 and RM0440, "EXTI"; RM0444 with a pending
 * register per edge and the ports' selection; RM0433 with the core's registers apart (from memory).
 */
#include "ports.h"
#include "report.h"

enum { IMR, RTSR, FTSR, PENDING, RISING, FALLING, SOURCE, UNKNOWN };

#define LINES 0x7FFFFu

static unsigned name_of(exti_kind kind, uint32_t offset)
{
    static const struct {
        exti_kind kind;
        uint32_t offset;
        unsigned name;
    } names[] = {
        {EXTI_F1, 0x00, IMR},     {EXTI_F1, 0x08, RTSR},    {EXTI_F1, 0x0C, FTSR},
        {EXTI_F1, 0x14, PENDING}, {EXTI_G0, 0x00, RTSR},    {EXTI_G0, 0x04, FTSR},
        {EXTI_G0, 0x0C, RISING},  {EXTI_G0, 0x10, FALLING}, {EXTI_G0, 0x80, IMR},
        {EXTI_H7, 0x00, RTSR},    {EXTI_H7, 0x04, FTSR},    {EXTI_H7, 0x80, IMR},
        {EXTI_H7, 0x88, PENDING},
    };

    for (unsigned i = 0; i < sizeof names / sizeof names[0]; i++) {
        if (names[i].kind == kind && names[i].offset == offset) {
            return names[i].name;
        }
    }
    if (kind == EXTI_G0 && offset >= 0x60u && offset < 0x70u) {
        return SOURCE;
    }
    report_fault("-", "EXTI register 0x%02X is not modelled", offset);
    return UNKNOWN;
}

uint32_t ports_requests(const ports *ports)
{
    return (ports->rising | ports->falling) & ports->imr;
}

uint32_t ports_read_exti(const ports *ports, uint32_t offset)
{
    switch (name_of(ports->exti, offset)) {
    case IMR:
        return ports->imr;
    case RTSR:
        return ports->rtsr;
    case FTSR:
        return ports->ftsr;
    case PENDING:
        return ports->rising | ports->falling;
    case RISING:
        return ports->rising;
    case FALLING:
        return ports->falling;
    case SOURCE:
        return ports->exticr[(offset - 0x60u) / 4u];
    default:
        return 0;
    }
}

void ports_write_exti(ports *ports, uint32_t offset, uint32_t value)
{
    const unsigned name = name_of(ports->exti, offset);

    switch (name) {
    case IMR:
        ports->imr = value & LINES;
        break;
    case RTSR:
        ports->rtsr = value & LINES;
        break;
    case FTSR:
        ports->ftsr = value & LINES;
        break;
    case PENDING:
        ports->rising &= ~value;
        ports->falling &= ~value;
        break;
    case RISING:
        ports->rising &= ~value;
        break;
    case FALLING:
        ports->falling &= ~value;
        break;
    case SOURCE:
        ports->exticr[(offset - 0x60u) / 4u] = value;
        ports_detect_edges(ports);
        break;
    default:
        break;
    }
}
