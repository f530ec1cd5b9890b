#include "ports.h"

#include <string.h>

#include "report.h"

enum { CRL = 0x00, CRH = 0x04, IDR = 0x08, ODR = 0x0C, BSRR = 0x10, BRR = 0x14 };
enum {
    MODER = 0x00,
    OTYPER = 0x04,
    OSPEEDR = 0x08,
    PUPDR = 0x0C,
    IDR_NEW = 0x10,
    ODR_NEW = 0x14,
    BSRR_NEW = 0x18,
    AFRL = 0x20,
    AFRH = 0x24
};
enum { MAPR = 0x04, EXTICR1 = 0x08, EXTICR4 = 0x14 };

#define FLOATING_INPUTS 0x44444444u
#define ANALOGUE_PINS 0xFFFFFFFFu

enum { MODE_INPUT, MODE_OUTPUT, MODE_ALTERNATE, MODE_ANALOGUE };

void ports_reset(ports *ports, const chip *chip)
{
    pin_drive outside[PORT_COUNT][PIN_COUNT];

    memcpy(outside, ports->drive, sizeof outside);
    memset(ports, 0, sizeof *ports);
    memcpy(ports->drive, outside, sizeof outside);
    ports->has_afio = chip->has_afio;
    ports->exti = chip->exti;
    for (unsigned port = 0; port < PORT_COUNT; port++) {
        ports->crl[port] = FLOATING_INPUTS;
        ports->crh[port] = FLOATING_INPUTS;
        ports->moder[port] = ANALOGUE_PINS;
    }
    ports->moder[0] = 0xABFFFFFFu; /* the debug port's pins */
    ports->pupdr[0] = 0x64000000u;
}

/* Four configuration bits of a pin. */
static unsigned configuration_of(const ports *ports, unsigned port, unsigned pin)
{
    const uint32_t half = pin < 8u ? ports->crl[port] : ports->crh[port];

    return (half >> (4u * (pin % 8u))) & 0xFu;
}

static unsigned mode_of(const ports *ports, unsigned port, unsigned pin)
{
    return (ports->moder[port] >> (2u * pin)) & 3u;
}

bool ports_is_output(const ports *ports, unsigned port, unsigned pin)
{
    return ports->has_afio ? (configuration_of(ports, port, pin) & 3u) != 0u
                           : mode_of(ports, port, pin) == MODE_OUTPUT;
}

static const char *check_afio_route(const ports *ports, const can_route *route)
{
    const unsigned receive = configuration_of(ports, route->receive_port, route->receive_pin);
    const unsigned transmit = configuration_of(ports, route->transmit_port, route->transmit_pin);

    if ((ports->mapr & route->remap_mask) != route->remap) {
        return "the controller is not there";
    }
    if ((transmit & 3u) == 0u || (transmit & 0xCu) != 8u) {
        return "the transmit pin is not an alternate push-pull output";
    }
    return receive == 4u || receive == 8u ? NULL : "the receive pin is not an input";
}

static bool has_function(const ports *ports, unsigned port, unsigned pin, unsigned function)
{
    return mode_of(ports, port, pin) == MODE_ALTERNATE &&
           ((ports->afr[port][pin / 8u] >> (4u * (pin % 8u))) & 0xFu) == function;
}

const char *ports_check_route(const ports *ports, const can_route *route)
{
    if (ports->has_afio) {
        return check_afio_route(ports, route);
    }
    if (!has_function(ports, route->transmit_port, route->transmit_pin, route->function) ||
        ((ports->otyper[route->transmit_port] >> route->transmit_pin) & 1u) != 0u) {
        return "the transmit pin does not have the controller's function, push-pull";
    }
    return has_function(ports, route->receive_port, route->receive_pin, route->function)
               ? NULL
               : "the receive pin does not have the controller's function";
}

bool ports_level(const ports *ports, unsigned port, unsigned pin)
{
    const unsigned configuration = configuration_of(ports, port, pin);
    const unsigned mode = mode_of(ports, port, pin);
    const bool out = ((ports->odr[port] >> pin) & 1u) != 0u;

    if (ports->has_afio ? configuration == 0u : mode == MODE_ANALOGUE) {
        return false; /* analogue: reads 0 */
    }
    if (ports->has_afio ? (configuration & 3u) != 0u : mode == MODE_OUTPUT) {
        return out;
    }
    if (ports->drive[port][pin] != PIN_OPEN) {
        return ports->drive[port][pin] == PIN_HIGH;
    }
    /* Pulled; a floating open pin is taken as low. */
    return ports->has_afio ? configuration == 8u && out
                           : ((ports->pupdr[port] >> (2u * pin)) & 3u) == 1u;
}

static uint32_t line_levels(const ports *ports)
{
    uint32_t levels = 0;

    for (unsigned line = 0; line < PIN_COUNT; line++) {
        const unsigned width = ports->exti == EXTI_G0 ? 8u : 4u;
        const unsigned port = (ports->exticr[line / 4u] >> (width * (line % 4u))) & 0xFu;

        if (port < PORT_COUNT && ports_level(ports, port, line)) {
            levels |= 1u << line;
        }
    }
    return levels;
}

void ports_detect_edges(ports *ports)
{
    const uint32_t levels = line_levels(ports);
    const uint32_t risen = levels & ~ports->line_levels;
    const uint32_t fallen = ~levels & ports->line_levels;

    ports->rising |= risen & ports->rtsr;
    ports->falling |= fallen & ports->ftsr;
    ports->line_levels = levels;
}

void ports_drive(ports *ports, unsigned port, unsigned pin, bool level)
{
    ports->drive[port][pin] = level ? PIN_HIGH : PIN_LOW;
    ports_detect_edges(ports);
}

static uint32_t levels_of(const ports *ports, unsigned port)
{
    uint32_t levels = 0;

    for (unsigned pin = 0; pin < PIN_COUNT; pin++) {
        levels |= (ports_level(ports, port, pin) ? 1u : 0u) << pin;
    }
    return levels;
}

static uint32_t read_new_gpio(const ports *ports, unsigned port, uint32_t offset)
{
    switch (offset) {
    case MODER:
        return ports->moder[port];
    case OTYPER:
        return ports->otyper[port];
    case OSPEEDR:
        return ports->ospeedr[port];
    case PUPDR:
        return ports->pupdr[port];
    case IDR_NEW:
        return levels_of(ports, port);
    case ODR_NEW:
        return ports->odr[port];
    case AFRL:
    case AFRH:
        return ports->afr[port][(offset - AFRL) / 4u];
    default:
        report_fault("-", "port register 0x%02X cannot be read", offset);
        return 0;
    }
}

uint32_t ports_read_gpio(const ports *ports, unsigned port, uint32_t offset)
{
    if (!ports->has_afio) {
        return read_new_gpio(ports, port, offset);
    }
    switch (offset) {
    case CRL:
        return ports->crl[port];
    case CRH:
        return ports->crh[port];
    case ODR:
        return ports->odr[port];
    case IDR:
        return levels_of(ports, port);
    default:
        report_fault("-", "port register 0x%02X cannot be read", offset);
        return 0;
    }
}

static void set_and_clear(ports *ports, unsigned port, uint32_t value)
{
    ports->odr[port] &= ~(value >> 16); /* a bit in both halves is set */
    ports->odr[port] |= value & 0xFFFFu;
}

static void write_new_gpio(ports *ports, unsigned port, uint32_t offset, uint32_t value)
{
    switch (offset) {
    case MODER:
        ports->moder[port] = value;
        break;
    case OTYPER:
        ports->otyper[port] = value & 0xFFFFu;
        break;
    case OSPEEDR:
        ports->ospeedr[port] = value;
        break;
    case PUPDR:
        ports->pupdr[port] = value;
        break;
    case ODR_NEW:
        ports->odr[port] = value & 0xFFFFu;
        break;
    case BSRR_NEW:
        set_and_clear(ports, port, value);
        break;
    case AFRL:
    case AFRH:
        ports->afr[port][(offset - AFRL) / 4u] = value;
        break;
    default:
        report_fault("-", "port register 0x%02X cannot be written", offset);
        break;
    }
    ports_detect_edges(ports);
}

void ports_write_gpio(ports *ports, unsigned port, uint32_t offset, uint32_t value)
{
    if (!ports->has_afio) {
        write_new_gpio(ports, port, offset, value);
        return;
    }
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
        set_and_clear(ports, port, value);
        break;
    case BRR:
        ports->odr[port] &= ~(value & 0xFFFFu);
        break;
    default:
        report_fault("-", "port register 0x%02X cannot be written", offset);
        break;
    }
    ports_detect_edges(ports);
}

uint32_t ports_read_syscfg(const ports *ports, uint32_t offset)
{
    if (ports->has_afio && offset == MAPR) {
        return ports->mapr & ~(7u << 24); /* the debug pins' field cannot be read back */
    }
    if (ports->exti != EXTI_G0 && offset >= EXTICR1 && offset <= EXTICR4) {
        return ports->exticr[(offset - EXTICR1) / 4u];
    }
    report_fault("-", "AFIO or SYSCFG register 0x%02X is not modelled", offset);
    return 0;
}

void ports_write_syscfg(ports *ports, uint32_t offset, uint32_t value)
{
    if (ports->has_afio && offset == MAPR) {
        ports->mapr = value;
    } else if (ports->exti != EXTI_G0 && offset >= EXTICR1 && offset <= EXTICR4) {
        ports->exticr[(offset - EXTICR1) / 4u] = value & 0xFFFFu;
        ports_detect_edges(ports);
    } else {
        report_fault("-", "AFIO or SYSCFG register 0x%02X is not modelled", offset);
    }
}
