/*
 * Pins and edge detection: ports A to C, AFIO, EXTI (RM0008, "GPIOs and AFIOs" and "External
 * interrupt/event controller").
 */
#ifndef PORTS_H
#define PORTS_H

#include <stdbool.h>
#include <stdint.h>

#define PORT_COUNT 3u
#define PIN_COUNT 16u

typedef enum { PIN_OPEN, PIN_LOW, PIN_HIGH } pin_drive;

typedef struct {
    uint32_t crl[PORT_COUNT];
    uint32_t crh[PORT_COUNT];
    uint32_t odr[PORT_COUNT];
    pin_drive drive[PORT_COUNT][PIN_COUNT]; /* what the outside does */
    uint32_t mapr;
    uint32_t exticr[4];
    uint32_t imr;
    uint32_t rtsr;
    uint32_t ftsr;
    uint32_t pr;
    uint32_t line_levels;
} ports;

/* What the outside does to the pins goes on. */
void ports_reset(ports *ports);

uint32_t ports_read_gpio(const ports *ports, unsigned port, uint32_t offset);
void ports_write_gpio(ports *ports, unsigned port, uint32_t offset, uint32_t value);
uint32_t ports_read_afio(const ports *ports, uint32_t offset);
void ports_write_afio(ports *ports, uint32_t offset, uint32_t value);
uint32_t ports_read_exti(const ports *ports, uint32_t offset);
void ports_write_exti(ports *ports, uint32_t offset, uint32_t value);

void ports_drive(ports *ports, unsigned port, unsigned pin, bool level);

/* Lines that ask for an interrupt. */
uint32_t ports_requests(const ports *ports);

bool ports_level(const ports *ports, unsigned port, unsigned pin);
/* Four configuration bits of a pin. */
unsigned ports_configuration(const ports *ports, unsigned port, unsigned pin);

#endif
