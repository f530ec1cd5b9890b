/*
 * Pins and edge detection: ports A to D, AFIO or SYSCFG, EXTI. Ports have four configuration bits
 * per pin (RM0008, "GPIOs and AFIOs") or a mode register (RM0440, "GPIOs", from memory).
 */
#ifndef PORTS_H
#define PORTS_H

#include <stdbool.h>
#include <stdint.h>

#include "chip.h"

#define PORT_COUNT 4u
#define PIN_COUNT 16u

typedef enum { PIN_OPEN, PIN_LOW, PIN_HIGH } pin_drive;

typedef struct {
    bool has_afio;
    exti_kind exti;
    uint32_t crl[PORT_COUNT];
    uint32_t crh[PORT_COUNT];
    uint32_t moder[PORT_COUNT];
    uint32_t otyper[PORT_COUNT];
    uint32_t ospeedr[PORT_COUNT];
    uint32_t pupdr[PORT_COUNT];
    uint32_t afr[PORT_COUNT][2];
    uint32_t odr[PORT_COUNT];
    pin_drive drive[PORT_COUNT][PIN_COUNT]; /* what the outside does */
    uint32_t mapr;
    uint32_t exticr[4];
    uint32_t imr;
    uint32_t rtsr;
    uint32_t ftsr;
    uint32_t rising; /* edges seen; most chips show them in one register */
    uint32_t falling;
    uint32_t line_levels;
} ports;

/* What the outside does to the pins goes on. */
void ports_reset(ports *ports, const chip *chip);

uint32_t ports_read_gpio(const ports *ports, unsigned port, uint32_t offset);
void ports_write_gpio(ports *ports, unsigned port, uint32_t offset, uint32_t value);
uint32_t ports_read_syscfg(const ports *ports, uint32_t offset);
void ports_write_syscfg(ports *ports, uint32_t offset, uint32_t value);
uint32_t ports_read_exti(const ports *ports, uint32_t offset);
void ports_write_exti(ports *ports, uint32_t offset, uint32_t value);

/* Compares the lines with what they were before. */
void ports_detect_edges(ports *ports);

void ports_drive(ports *ports, unsigned port, unsigned pin, bool level);

/* Lines that ask for an interrupt. */
uint32_t ports_requests(const ports *ports);

bool ports_level(const ports *ports, unsigned port, unsigned pin);
/* The pin puts out what its port says. */
bool ports_is_output(const ports *ports, unsigned port, unsigned pin);

/* What keeps a controller's pins from working; NULL if nothing does. */
const char *ports_check_route(const ports *ports, const can_route *route);

#endif
