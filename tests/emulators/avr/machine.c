#include "machine.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <simavr/avr_ioport.h>
#include <simavr/avr_watchdog.h>
#include <simavr/sim_cycle_timers.h>
#include <simavr/sim_elf.h>
#include <simavr/sim_io.h>

#define PAINT 0xA5
#define SRAM_BEGIN 0x100u
#define TCCR1B_ADDRESS 0x81
#define MCUSR_ADDRESS 0x54
#define GPIOR1_ADDRESS 0x4A
#define POWER_ON_FLAG 0x01
#define BROWN_OUT_FLAG 0x04
#define WATCHDOG_FLAG 0x08
/* Where the linker puts data memory, and its name for the end of all variables. */
#define DATA_OFFSET 0x800000u
#define END_OF_VARIABLES "_end"

/* simavr's callbacks for sleep and reset carry no parameter of ours. */
static machine *the_machine;
static void (*simavr_reset)(avr_t *avr);

uint64_t machine_now_ns(const machine *machine)
{
    return machine->avr->cycle * 125u / 2u;
}

static avr_cycle_count_t to_cycle(uint64_t ns)
{
    return (ns * 2u + 124u) / 125u;
}

/* ---- the world's clockwork ---- */

static avr_cycle_count_t next_cycle(machine *machine)
{
    uint64_t at;
    avr_cycle_count_t cycle;

    if (!world_next(&machine->world, &at)) {
        return 0;
    }
    cycle = to_cycle(at);
    return cycle > machine->avr->cycle ? cycle : machine->avr->cycle + 1;
}

static avr_cycle_count_t world_due(avr_t *avr, avr_cycle_count_t when, void *param)
{
    (void)avr;
    (void)when;
    world_advance(&((machine *)param)->world, machine_now_ns(param));
    return next_cycle(param);
}

void machine_poke_world(machine *machine)
{
    avr_cycle_count_t next;

    world_advance(&machine->world, machine_now_ns(machine));
    next = next_cycle(machine);
    avr_cycle_timer_cancel(machine->avr, world_due, machine);
    if (next != 0) {
        avr_cycle_timer_register(machine->avr, next - machine->avr->cycle, world_due, machine);
    }
}

/* ---- pins ---- */

static avr_irq_t *pin_irq(machine *machine, const board_pin *pin)
{
    return avr_io_getirq(machine->avr, AVR_IOCTL_IOPORT_GETIRQ(pin->port), pin->bit);
}

static void drive(machine *machine, const board_pin *pin, bool level)
{
    const unsigned port = (unsigned)(pin->port - 'B');
    const unsigned bit = 1u << pin->bit;
    avr_ioport_external_t outside;

    machine->driven[port] |= (uint8_t)bit;
    machine->pulled[port] =
        (uint8_t)(level ? machine->pulled[port] | bit : machine->pulled[port] & ~bit);
    /* simavr would let the internal pull-up win at the next write to the port. */
    outside.name = (unsigned char)pin->port;
    outside.mask = machine->driven[port];
    outside.value = machine->pulled[port];
    avr_ioctl(machine->avr, AVR_IOCTL_IOPORT_SET_EXTERNAL(pin->port), &outside);
    avr_raise_irq(pin_irq(machine, pin), level);
}

/* A reset clears what simavr knows of the levels outside. */
static void drive_again(machine *machine)
{
    for (unsigned port = 0; port < 3u; port++) {
        for (uint8_t bit = 0; bit < 8u; bit++) {
            const board_pin pin = {(char)('B' + port), bit};

            if ((machine->driven[port] >> bit & 1u) != 0u) {
                pin_irq(machine, &pin)->flags |= IRQ_FLAG_INIT; /* or an equal level is no news */
                drive(machine, &pin, (machine->pulled[port] >> bit & 1u) != 0u);
            }
        }
    }
}

static void print_pin(const machine *machine, uint32_t level)
{
    printf("pin %c%u %u %.0f\n", machine->options->watched.port,
           (unsigned)machine->options->watched.bit, (unsigned)level,
           (double)machine->avr->cycle / 16.0);
}

static void watched_changed(struct avr_irq_t *irq, uint32_t value, void *param)
{
    (void)irq;
    print_pin(param, value & 1u);
}

static void input_changed(void *owner, unsigned input, bool level)
{
    machine *m = owner;

    if (input < OPTIONS_MAX_INPUTS && m->options->has_input[input]) {
        drive(m, &m->options->inputs[input], level);
    } else {
        printf("fault input %u has no pin\n", input);
    }
}

static void interrupt_line_changed(void *owner, unsigned controller, bool low)
{
    machine *m = owner;

    drive(m, &m->options->controllers[controller].interrupt, !low);
}

/* ---- the microcontroller ---- */

static void sleeping(avr_t *avr, avr_cycle_count_t cycles)
{
    (void)avr;
    if (the_machine->measure.clock_start != 0) {
        the_machine->measure.slept += cycles + 1;
    }
}

/* Registers are cleared, timers gone, ports not yet reset. */
static void reset_again(avr_t *avr)
{
    if (!the_machine->scripted) {
        printf("fault reset by the watchdog at %.0f us\n", (double)avr->cycle / 16.0);
    }
    the_machine->was_reset = true;
    simavr_reset(avr);
}

/* As if the time were over; simavr sets the flag and lets the watchdog go on. */
static void let_watchdog_bite(avr_t *avr)
{
    for (avr_io_t *port = avr->io_port; port != NULL; port = port->next) {
        if (strcmp(port->kind, "watchdog") == 0) {
            avr_watchdog_t *watchdog = (avr_watchdog_t *)port;

            watchdog->reset_context.avr_run = avr->run;
            watchdog->reset_context.wdrf = 1;
        }
    }
}

static void reset_by_script(machine *machine, locum_reset_cause cause)
{
    if (cause == LOCUM_RESET_WATCHDOG) {
        let_watchdog_bite(machine->avr);
    }
    machine->cause = cause;
    machine->scripted = true;
    avr_reset(machine->avr);
    machine->scripted = false;
}

/* What simavr's reset did not do. */
static void begin_anew(machine *machine)
{
    avr_t *avr = machine->avr;

    machine->reset_flags = machine->cause == LOCUM_RESET_POWER ? POWER_ON_FLAG
                           : machine->cause == LOCUM_RESET_BROWNOUT
                               ? machine->reset_flags | BROWN_OUT_FLAG
                               : machine->reset_flags | WATCHDOG_FLAG;
    avr->data[MCUSR_ADDRESS] = machine->reset_flags;
    if (machine->cause == LOCUM_RESET_POWER) {
        memset(avr->data + SRAM_BEGIN, PAINT, (size_t)(avr->ramend + 1 - SRAM_BEGIN));
    }
    printf("reset %.0f\n", (double)avr->cycle / 16.0);
    world_reset(&machine->world, machine->cause, machine_now_ns(machine));
    machine->cause = LOCUM_RESET_WATCHDOG;
    machine->was_reset = false;
    machine->lives = false;
    machine->shifting = false;
    machine->selected = -1;
    drive_again(machine);
    if (machine->options->watching) {
        print_pin(machine, 0);
    }
    machine_poke_world(machine);
}

static void clock_control_written(struct avr_irq_t *irq, uint32_t value, void *param)
{
    machine *m = param;

    (void)irq;
    if ((value & 7) == 0 || m->lives) {
        return;
    }
    m->lives = true;
    printf("life %.3f\n", (double)m->avr->cycle / 16.0);
    if (m->measure.clock_start == 0) {
        m->measure.clock_start = m->avr->cycle;
    }
}

static void reset_flags_written(struct avr_irq_t *irq, uint32_t value, void *param)
{
    (void)irq;
    ((machine *)param)->reset_flags = (uint8_t)value;
}

static void mark_written(struct avr_irq_t *irq, uint32_t value, void *param)
{
    machine *m = param;

    (void)irq;
    measure_mark(&m->measure, (uint8_t)value, m->avr->cycle);
}

static void quiet(avr_t *avr, const int level, const char *format, va_list arguments)
{
    (void)avr;
    if (level <= LOG_ERROR) {
        vfprintf(stderr, format, arguments);
    }
}

static uint16_t end_of_variables(const elf_firmware_t *firmware)
{
    for (uint32_t i = 0; i < firmware->symbolcount; i++) {
        if (strcmp(firmware->symbol[i]->symbol, END_OF_VARIABLES) == 0) {
            return (uint16_t)(firmware->symbol[i]->addr - DATA_OFFSET);
        }
    }
    return (uint16_t)(SRAM_BEGIN + firmware->datasize + firmware->bsssize);
}

static bool load(machine *machine)
{
    static elf_firmware_t firmware;
    const options *options = machine->options;

    if (elf_read_firmware(options->firmware, &firmware) != 0) {
        fprintf(stderr, "firmware cannot be read: %s\n", options->firmware);
        return false;
    }
    firmware.frequency = 16000000;
    machine->avr = avr_make_mcu_by_name("atmega328p");
    if (machine->avr == NULL) {
        fprintf(stderr, "libsimavr does not know the ATmega328P\n");
        return false;
    }
    avr_init(machine->avr);
    avr_load_firmware(machine->avr, &firmware);
    machine->painted_from = end_of_variables(&firmware);
    return true;
}

bool machine_init(machine *machine, const options *options, script *script)
{
    const world_pins pins = {input_changed, interrupt_line_changed, machine};

    memset(machine, 0, sizeof *machine);
    machine->options = options;
    the_machine = machine;
    avr_global_logger_set(quiet);
    if (!load(machine)) {
        return false;
    }
    if (options->mutate && options->mutate_offset <= machine->avr->flashend) {
        machine->avr->flash[options->mutate_offset] = options->mutate_byte;
    }
    memset(machine->avr->data + SRAM_BEGIN, PAINT, (size_t)(machine->avr->ramend + 1 - SRAM_BEGIN));
    machine->avr->data[MCUSR_ADDRESS] = POWER_ON_FLAG;
    machine->reset_flags = POWER_ON_FLAG;
    avr_irq_register_notify(avr_iomem_getirq(machine->avr, MCUSR_ADDRESS, NULL, AVR_IOMEM_IRQ_ALL),
                            reset_flags_written, machine);
    machine->cause = LOCUM_RESET_WATCHDOG;
    machine->avr->sleep = sleeping;
    simavr_reset = machine->avr->reset;
    machine->avr->reset = reset_again;
    avr_irq_register_notify(avr_iomem_getirq(machine->avr, TCCR1B_ADDRESS, NULL, AVR_IOMEM_IRQ_ALL),
                            clock_control_written, machine);
    avr_irq_register_notify(avr_iomem_getirq(machine->avr, GPIOR1_ADDRESS, NULL, AVR_IOMEM_IRQ_ALL),
                            mark_written, machine);
    if (options->watching) {
        avr_irq_register_notify(pin_irq(machine, &options->watched), watched_changed, machine);
    }
    world_init(&machine->world, script, &pins);
    for (unsigned i = 0; i < options->controller_count; i++) {
        const controller_option *c = &options->controllers[i];

        world_add(&machine->world, c->rate, c->crystal_hz, c->start_us * 1000ull);
        drive(machine, &c->interrupt, true);
    }
    memcpy(machine->world.remotes, options->remotes, sizeof options->remotes);
    machine->world.remote_count = options->remote_count;
    memcpy(machine->world.errors, options->errors, sizeof options->errors);
    machine->world.error_count = options->error_count;
    machine->world.troubles = options->troubles;
    spi_bus_attach(machine);
    machine_poke_world(machine);
    return true;
}

void machine_run(machine *machine, uint64_t end_us)
{
    const avr_cycle_count_t end = end_us * 16u;

    while (machine->avr->cycle < end) {
        const int state = avr_run(machine->avr);
        locum_reset_cause cause;

        if (world_takes_reset(&machine->world, machine_now_ns(machine), &cause)) {
            reset_by_script(machine, cause);
        }
        if (machine->was_reset) {
            begin_anew(machine);
        }
        if (state == cpu_Done || state == cpu_Crashed) {
            printf("fault cpu stopped at %.3f us\n", (double)machine->avr->cycle / 16.0);
            return;
        }
    }
}

unsigned machine_stack_bytes(const machine *machine)
{
    uint32_t low = machine->painted_from;

    while (low <= machine->avr->ramend && machine->avr->data[low] == PAINT) {
        low++;
    }
    return machine->avr->ramend + 1u - low;
}
