#include "world.h"

#include <string.h>

#include "mcp2515_map.h"
#include "world_bus.h"

#define NS_PER_US 1000u

void world_init(world *world, script *script, const world_pins *pins)
{
    memset(world, 0, sizeof *world);
    world->script = script;
    world->pins = *pins;
}

void world_add(world *world, uint32_t rate, uint32_t crystal_hz, uint64_t crystal_start_ns)
{
    bus_model_init(&world->bus[world->count], rate, 1000000000u);
    world->crystal_start_ns[world->count] = crystal_start_ns;
    mcp2515_power_on(&world->chip[world->count], crystal_hz, crystal_start_ns);
    world->count++;
}

static void release_traffic(world *world, uint64_t now)
{
    for (size_t i = 0; i < world->script->traffic_count; i++) {
        script_traffic *traffic = &world->script->traffic[i];

        while (traffic->next < traffic->until && traffic->next * NS_PER_US <= now) {
            if (traffic->frame.bus < world->count &&
                !bus_model_waits(&world->bus[traffic->frame.bus], (uint32_t)i) &&
                !bus_model_put(&world->bus[traffic->frame.bus], &traffic->frame, (uint32_t)i,
                               traffic->next * NS_PER_US)) {
                printf("fault %u too much traffic waits\n", (unsigned)traffic->frame.bus);
            }
            traffic->next = traffic->period == 0 ? traffic->until : traffic->next + traffic->period;
        }
    }
}

static void raise_errors(world *world, uint64_t now)
{
    uint8_t bus;
    unsigned errors;

    for (size_t i = 0; i < world->error_count; i++) {
        world_errors *step = &world->errors[i];

        if (!step->done && step->at <= now) {
            step->done = true;
            mcp2515_count_errors(&world->chip[step->bus], step->transmit_errors);
        }
    }
    while (bus_offs_take(&world->offs, world->script, now, &bus, &errors)) {
        if (bus < world->count && mcp2515_on_bus(&world->chip[bus])) {
            mcp2515_count_errors(&world->chip[bus], errors);
        }
    }
}

static void raise_troubles(world *world, uint64_t now)
{
    unsigned bus;

    while (spi_troubles_take(&world->troubles, now, &bus)) {
        mcp2515_chip *chip = &world->chip[bus];

        mcp2515_power_on(chip, chip->crystal_hz, now + world->crystal_start_ns[bus]);
    }
}

uint8_t world_exchange(world *world, unsigned controller, uint8_t out, uint64_t now)
{
    const spi_ailment ailment = spi_troubles_of(&world->troubles, controller, now);
    uint8_t in;

    if (ailment == SPI_DEAF) {
        return 0xFF;
    }
    in = mcp2515_exchange(&world->chip[controller], out, now);
    return ailment == SPI_NOISY ? spi_troubles_noise(&world->troubles) : in;
}

static void apply_script(world *world, uint64_t now)
{
    const script *script = world->script;

    while (world->inputs_done < script->input_count &&
           script->inputs[world->inputs_done].at * NS_PER_US <= now) {
        const script_input *input = &script->inputs[world->inputs_done++];

        world->pins.input(world->pins.owner, input->input, input->level);
    }
    for (size_t i = 0; i < script->blocked_count; i++) {
        const script_span *span = &script->blocked[i];

        if (!world->blocked_done[i] && span->from * NS_PER_US <= now && span->bus < world->count) {
            world->blocked_done[i] = true;
            world->bus[span->bus].blocked_until = span->until * NS_PER_US;
        }
    }
    release_traffic(world, now);
    raise_errors(world, now);
    raise_troubles(world, now);
    for (size_t i = 0; i < world->remote_count; i++) {
        world_remote *remote = &world->remotes[i];

        if (!remote->done && remote->at <= now) {
            remote->done = true;
            world_bus_hear(world, remote->frame.bus, &remote->frame, true);
        }
    }
}

static void happen(world *world, uint64_t now)
{
    world->now = now;
    apply_script(world, now);
    for (unsigned bus = 0; bus < world->count; bus++) {
        mcp2515_chip *chip = &world->chip[bus];

        world_bus_happen(world, bus, now);
        if (mcp2515_int_low(chip) != world->int_low[bus]) {
            world->int_low[bus] = !world->int_low[bus];
            world->pins.interrupt_line(world->pins.owner, bus, world->int_low[bus]);
        }
    }
}

static void sooner(uint64_t candidate, uint64_t *at, bool *any)
{
    if (!*any || candidate < *at) {
        *at = candidate;
    }
    *any = true;
}

bool world_next(const world *world, uint64_t *at)
{
    const script *script = world->script;
    bool any = false;

    if (world->inputs_done < script->input_count) {
        sooner(script->inputs[world->inputs_done].at * NS_PER_US, at, &any);
    }
    for (size_t i = 0; i < script->blocked_count; i++) {
        if (!world->blocked_done[i] && script->blocked[i].bus < world->count) {
            sooner(script->blocked[i].from * NS_PER_US, at, &any);
        }
    }
    for (size_t i = 0; i < script->traffic_count; i++) {
        if (script->traffic[i].next < script->traffic[i].until) {
            sooner(script->traffic[i].next * NS_PER_US, at, &any);
        }
    }
    for (size_t i = 0; i < world->error_count; i++) {
        if (!world->errors[i].done) {
            sooner(world->errors[i].at, at, &any);
        }
    }
    if (spi_troubles_next(&world->troubles) != UINT64_MAX) {
        sooner(spi_troubles_next(&world->troubles), at, &any);
    }
    for (size_t i = 0; i < world->remote_count; i++) {
        if (!world->remotes[i].done) {
            sooner(world->remotes[i].at, at, &any);
        }
    }
    for (unsigned bus = 0; bus < world->count; bus++) {
        const bus_model *wire = &world->bus[bus];
        uint64_t then;

        /* A controller is asked what it sends only when the bus is free. */
        if (!wire->sending && mcp2515_candidate(&world->chip[bus]) >= 0) {
            then = wire->idle > wire->blocked_until ? wire->idle : wire->blocked_until;
            if (then > world->now) {
                sooner(then, at, &any);
            }
        }
        if (bus_model_next(&world->bus[bus], world->now, &then)) {
            sooner(then, at, &any);
        }
        if (world->runs[bus] != 0u && !world->bus[bus].sending) {
            sooner(recessive_done_at(&world->recessive[bus], &world->bus[bus]), at, &any);
        }
    }
    if (bus_offs_next(&world->offs, script) != UINT64_MAX) {
        sooner(bus_offs_next(&world->offs, script), at, &any);
    }
    if (world->resets_done < script->reset_count) {
        sooner(script->resets[world->resets_done].at * NS_PER_US, at, &any);
    }
    return any;
}

bool world_takes_reset(world *world, uint64_t now, locum_reset_cause *cause)
{
    const script *script = world->script;

    if (world->resets_done == script->reset_count ||
        script->resets[world->resets_done].at * NS_PER_US > now) {
        return false;
    }
    *cause = (locum_reset_cause)script->resets[world->resets_done++].what;
    return true;
}

void world_reset(world *world, locum_reset_cause cause, uint64_t now)
{
    for (unsigned bus = 0; bus < world->count; bus++) {
        mcp2515_chip *chip = &world->chip[bus];

        mcp2515_select(chip, false, now);
        if (cause == LOCUM_RESET_POWER) {
            mcp2515_power_on(chip, chip->crystal_hz, now + world->crystal_start_ns[bus]);
        }
    }
}

void world_advance(world *world, uint64_t now)
{
    uint64_t at;

    while (world_next(world, &at) && at < now) {
        happen(world, at);
    }
    happen(world, now);
}

void world_print_receptions(const world *world)
{
    unsigned received = 0;
    unsigned lost = 0;
    unsigned standing = 0;

    for (unsigned bus = 0; bus < world->count; bus++) {
        received += world->chip[bus].received;
        lost += world->chip[bus].overruns;
        standing += (world->chip[bus].reg[R_EFLG] & (RX0OVR | RX1OVR)) != 0;
    }
    printf("measure frames_heard %u\n", received);
    printf("measure overruns %u\nmeasure overrun_flags_left %u\n", lost, standing);
}
