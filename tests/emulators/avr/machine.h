/*
 * An ATmega328P at 16 MHz on libsimavr 1.6, wired to a world.
 *
 * simavr 1.6 charges a fixed 100 µs per SPI byte; spi_bus.c replaces that by the time the clock
 * divider makes.
 */
#ifndef MACHINE_H
#define MACHINE_H

#include <simavr/avr_spi.h>
#include <simavr/sim_avr.h>

#include "measure.h"
#include "options.h"
#include "world.h"

typedef struct {
    avr_t *avr;
    avr_spi_t *spi;
    const options *options;
    world world;
    measure measure;
    uint8_t pulled[3]; /* levels from outside at ports B, C, D */
    uint8_t driven[3]; /* pins with a level from outside */
    int selected;      /* controller with chip select low, or -1 */
    uint64_t selected_at;
    uint8_t instruction;
    unsigned taken;          /* bytes since the chip select fell */
    bool shifting;           /* a byte is on the SPI */
    locum_reset_cause cause; /* of the next reset: the watchdog's, unless the script asks for one */
    bool scripted;
    uint8_t reset_flags;   /* MCUSR as the firmware left it; simavr's reset clears it */
    bool was_reset;        /* and nothing was done about it yet */
    bool lives;            /* the firmware has started its clock since the last reset */
    uint16_t painted_from; /* SRAM from here to its end was painted */
} machine;

/* False with a message on standard error when the firmware cannot be read. */
bool machine_init(machine *machine, const options *options, script *script);

/* Runs up to the script's end. */
void machine_run(machine *machine, uint64_t end_us);

/* Bytes of SRAM that the stack ever reached. */
unsigned machine_stack_bytes(const machine *machine);

uint64_t machine_now_ns(const machine *machine);

/* Lets the world act on what the microcontroller just did. */
void machine_poke_world(machine *machine);

/* Takes over the data register and the chip selects. */
void spi_bus_attach(machine *machine);

#endif
