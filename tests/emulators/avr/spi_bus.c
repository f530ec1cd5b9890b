/* SPI data register with the real pace, and the chip selects. */
#include <stdio.h>

#include <simavr/avr_ioport.h>
#include <simavr/sim_interrupts.h>
#include <simavr/sim_io.h>

#include "machine.h"

/* Cycles per bit from SPR1, SPR0 and SPI2X (ATmega328P data sheet, SPCR and SPSR). */
static unsigned bit_cycles(const machine *machine)
{
    static const unsigned divider[4] = {4, 16, 64, 128};
    const avr_t *avr = machine->avr;
    const unsigned cycles = divider[avr->data[machine->spi->r_spcr] & 3];

    return (avr->data[machine->spi->r_spsr] & 1) != 0 ? cycles / 2 : cycles;
}

static avr_cycle_count_t byte_through(avr_t *avr, avr_cycle_count_t when, void *param)
{
    machine *m = param;
    const uint8_t out = avr->data[m->spi->r_spdr];
    uint8_t in = 0xFF;

    (void)when;
    m->shifting = false;
    if (m->selected >= 0) {
        in = world_exchange(&m->world, (unsigned)m->selected, out, machine_now_ns(m));
        if (m->taken++ == 0) {
            m->instruction = out;
            measure_instruction(&m->measure, out, m->selected_at);
        }
        machine_poke_world(m);
    }
    /* Stores the byte and raises SPIF. */
    avr_raise_irq(avr_io_getirq(avr, AVR_IOCTL_SPI_GETIRQ(m->spi->name), SPI_IRQ_INPUT), in);
    return 0;
}

static void data_written(avr_t *avr, avr_io_addr_t addr, uint8_t value, void *param)
{
    machine *m = param;
    unsigned cycles;

    if (m->shifting) {
        printf("fault spi write collision\n");
        return;
    }
    avr->data[addr] = value;
    if (!avr_regbit_get(avr, m->spi->spe) || !avr_regbit_get(avr, m->spi->mstr)) {
        return;
    }
    avr_clear_interrupt(avr, &m->spi->spi);
    m->shifting = true;
    cycles = 8 * bit_cycles(m);
    if (m->measure.clock_start != 0) {
        m->measure.spi += cycles;
    }
    avr_cycle_timer_register(avr, cycles, byte_through, m);
}

static void select_changed(struct avr_irq_t *irq, uint32_t value, void *param)
{
    machine *m = param;

    for (unsigned i = 0; i < m->options->controller_count; i++) {
        const board_pin *pin = &m->options->controllers[i].cs;

        if (irq != avr_io_getirq(m->avr, AVR_IOCTL_IOPORT_GETIRQ(pin->port), pin->bit)) {
            continue;
        }
        if (m->shifting) {
            printf("fault spi chip select moves within a byte\n");
        }
        if (value == 0 && m->selected >= 0) {
            printf("fault spi two chips selected\n");
        }
        mcp2515_select(&m->world.chip[i], value == 0, machine_now_ns(m));
        if (value == 0) {
            m->selected = (int)i;
            m->selected_at = m->avr->cycle;
        } else if (m->selected == (int)i) {
            m->selected = -1;
            if (m->taken != 0 && (m->instruction & 0xF8) == 0x80) { /* request to send */
                measure_request(&m->measure, m->avr->cycle);
            }
        }
        m->taken = 0;
        machine_poke_world(m);
    }
}

void spi_bus_attach(machine *machine)
{
    avr_t *avr = machine->avr;
    const avr_io_addr_t spdr = 0x4E; /* ATmega328P: data address of SPDR */

    machine->selected = -1;
    machine->spi = avr->io[AVR_DATA_TO_IO(spdr)].w.param;
    avr_register_io_write(avr, spdr, data_written, machine);
    for (unsigned i = 0; i < machine->options->controller_count; i++) {
        const board_pin *pin = &machine->options->controllers[i].cs;

        avr_irq_register_notify(avr_io_getirq(avr, AVR_IOCTL_IOPORT_GETIRQ(pin->port), pin->bit),
                                select_changed, machine);
    }
}
