#include "ports.h"

#include <string.h>

#include "report.h"

enum { CRL = 0x00, CRH = 0x04, IDR = 0x08, ODR = 0x0C, BSRR = 0x10, BRR = 0x14 };
enum { MAPR = 0x04, EXTICR1 = 0x08, EXTICR4 = 0x14 };
enum { IMR = 0x00, EMR = 0x04, RTSR = 0x08, FTSR = 0x0C, PR = 0x14 };

#define FLOATING_INPUTS 0x44444444u
#define EXTI_LINES 0x7FFFFu

void ports_reset(ports *ports)
{
    pin_drive outside[PORT_COUNT][PIN_COUNT];

    memcpy(outside, ports->drive, sizeof outside);
    memset(ports, 0, sizeof *ports);
    memcpy(ports->drive, outside, sizeof outside);
    for (unsigned port = 0; port < PORT_COUNT; port++) {
        ports->crl[port] = FLOATING_INPUTS;
        ports->crh[port] = FLOATING_INPUTS;
    }
}

unsigned ports_configuration(const ports *ports, unsigned port, unsigned pin)
{
    const uint32_t half = pin < 8u ? ports->crl[port] : ports->crh[port];

    return (half >> (4u * (pin % 8u))) & 0xFu;
}

bool ports_level(const ports *ports, unsigned port, unsigned pin)
{
    const unsigned configuration = ports_configuration(ports, port, pin);
    const bool out = ((ports->odr[port] >> pin) & 1u) != 0u;

    if (configuration == 0u) {
        return false; /* analogue: reads 0 */
    }
    if ((configuration & 3u) != 0u) {
        return out;
    }
    if (ports->drive[port][pin] != PIN_OPEN) {
        return ports->drive[port][pin] == PIN_HIGH;
    }
    return configuration == 8u && out; /* pulled; a floating open pin is taken as low */
}

static uint32_t line_levels(const ports *ports)
{
    uint32_t levels = 0;

    for (unsigned line = 0; line < PIN_COUNT; line++) {
        const unsigned port = (ports->exticr[line / 4u] >> (4u * (line % 4u))) & 0xFu;

        if (port < PORT_COUNT && ports_level(ports, port, line)) {
            levels |= 1u << line;
        }
    }
    return levels;
}

static void detect_edges(ports *ports)
{
    const uint32_t levels = line_levels(ports);
    const uint32_t risen = levels & ~ports->line_levels;
    const uint32_t fallen = ~levels & ports->line_levels;

    ports->pr |= (risen & ports->rtsr) | (fallen & ports->ftsr);
    ports->line_levels = levels;
}

void ports_drive(ports *ports, unsigned port, unsigned pin, bool level)
{
    ports->drive[port][pin] = level ? PIN_HIGH : PIN_LOW;
    detect_edges(ports);
}

uint32_t ports_requests(const ports *ports)
{
    return ports->pr & ports->imr;
}

uint32_t ports_read_gpio(const ports *ports, unsigned port, uint32_t offset)
{
    uint32_t levels = 0;

    switch (offset) {
    case CRL:
        return ports->crl[port];
    case CRH:
        return ports->crh[port];
    case ODR:
        return ports->odr[port];
    case IDR:
        for (unsigned pin = 0; pin < PIN_COUNT; pin++) {
            levels |= (ports_level(ports, port, pin) ? 1u : 0u) << pin;
        }
        return levels;
    default:
        report_fault("-", "port register 0x%02X cannot be read", offset);
        return 0;
    }
}

void ports_write_gpio(ports *ports, unsigned port, uint32_t offset, uint32_t value)
{
    switch (offset) {
    case CRL:
        ports->crl[port] = value;
        break;
    case CRH:
        ports->crh[port] = value;
        break;
    case ODR:
        ports->odr[port] = value & 0xFFFFu;
        break;
    case BSRR:
        ports->odr[port] &= ~(value >> 16); /* a bit in both halves is set */
        ports->odr[port] |= value & 0xFFFFu;
        break;
    case BRR:
        ports->odr[port] &= ~(value & 0xFFFFu);
        break;
    default:
        report_fault("-", "port register 0x%02X cannot be written", offset);
        break;
    }
    detect_edges(ports);
}

uint32_t ports_read_afio(const ports *ports, uint32_t offset)
{
    if (offset == MAPR) {
        return ports->mapr & ~(7u << 24); /* the debug pins' field cannot be read back */
    }
    if (offset >= EXTICR1 && offset <= EXTICR4) {
        return ports->exticr[(offset - EXTICR1) / 4u];
    }
    report_fault("-", "AFIO register 0x%02X is not modelled", offset);
    return 0;
}

void ports_write_afio(ports *ports, uint32_t offset, uint32_t value)
{
    if (offset == MAPR) {
        ports->mapr = value;
    } else if (offset >= EXTICR1 && offset <= EXTICR4) {
        ports->exticr[(offset - EXTICR1) / 4u] = value & 0xFFFFu;
        detect_edges(ports);
    } else {
        report_fault("-", "AFIO register 0x%02X is not modelled", offset);
    }
}

uint32_t ports_read_exti(const ports *ports, uint32_t offset)
{
    switch (offset) {
    case IMR:
        return ports->imr;
    case EMR:
        return 0;
    case RTSR:
        return ports->rtsr;
    case FTSR:
        return ports->ftsr;
    case PR:
        return ports->pr;
    default:
        report_fault("-", "EXTI register 0x%02X is not modelled", offset);
        return 0;
    }
}

void ports_write_exti(ports *ports, uint32_t offset, uint32_t value)
{
    value &= EXTI_LINES;
    switch (offset) {
    case IMR:
        ports->imr = value;
        break;
    case RTSR:
        ports->rtsr = value;
        break;
    case FTSR:
        ports->ftsr = value;
        break;
    case PR:
        ports->pr &= ~value;
        break;
    default:
        report_fault("-", "EXTI register 0x%02X is not modelled", offset);
        break;
    }
}
