#include "world.h"

#include <inttypes.h>
#include <string.h>

#include "mcp2515_timing.h"

#define NS_PER_US 1000u
#define BOARD_TAG 0x10000u /* the script's traffic has its index as mark */

void world_init(world *world, script *script, const world_pins *pins)
{
    memset(world, 0, sizeof *world);
    world->script = script;
    world->pins = *pins;
}

void world_add(world *world, uint32_t rate, uint32_t crystal_hz, uint64_t crystal_start_ns)
{
    bus_model_init(&world->bus[world->count], rate, 1000000000u);
    mcp2515_power_on(&world->chip[world->count], crystal_hz, crystal_start_ns);
    world->count++;
}

static void print_frame(unsigned bus, const locum_frame *frame, uint64_t accepted,
                        const bus_report *report)
{
    locum_frame named = *frame;
    char text[3][32];
    const uint64_t times[3] = {accepted, report != NULL ? report->start : 0,
                               report != NULL ? report->end : 0};

    for (unsigned i = 0; i < 3; i++) {
        snprintf(text[i], sizeof text[i], "%" PRIu64 ".%03u", times[i] / NS_PER_US,
                 (unsigned)(times[i] % NS_PER_US));
    }
    named.bus = (uint8_t)bus;
    script_print_frame(&named, text[0], report != NULL ? text[1] : "-",
                       report != NULL ? text[2] : "-");
}

/* False for a controller whose bit timing does not fit the bus; says so once. */
static bool fits(world *world, unsigned bus)
{
    char reason[80];

    if (mcp2515_timing_fits(&world->chip[bus], world->bus[bus].rate, reason, sizeof reason)) {
        return true;
    }
    if (!world->unfit[bus]) {
        printf("fault %u %s\n", bus, reason);
    }
    world->unfit[bus] = true;
    return false;
}

static void hear(world *world, unsigned bus, const locum_frame *frame, bool remote)
{
    if (mcp2515_on_bus(&world->chip[bus]) && fits(world, bus)) {
        mcp2515_heard(&world->chip[bus], frame, remote);
    }
}

static void finish(world *world, unsigned bus, uint64_t now)
{
    mcp2515_chip *chip = &world->chip[bus];
    bus_report report;

    if (!bus_model_finish(&world->bus[bus], now, &report)) {
        return;
    }
    if (report.entry.tag >= BOARD_TAG) {
        print_frame(bus, &report.entry.frame, report.entry.offered, &report);
        mcp2515_sent(chip, (int)(report.entry.tag - BOARD_TAG));
    } else {
        hear(world, bus, &report.entry.frame, false);
    }
}

/* The controller decides anew before each start of frame which buffer it sends. */
static void nominate(world *world, unsigned bus)
{
    bus_model *wire = &world->bus[bus];
    mcp2515_chip *chip = &world->chip[bus];
    const int buffer = mcp2515_candidate(chip);
    locum_frame frame;

    for (unsigned i = 0; i < MCP2515_BUFFERS; i++) {
        bus_model_take_back(wire, BOARD_TAG + i);
    }
    if (buffer < 0) {
        return;
    }
    if (!fits(world, bus)) {
        return;
    }
    mcp2515_frame_in(chip, buffer, &frame);
    frame.bus = (uint8_t)bus;
    if (!bus_model_put(wire, &frame, BOARD_TAG + (uint32_t)buffer, chip->requested_at[buffer])) {
        printf("fault %u too much traffic waits\n", bus);
    }
}

static void start(world *world, unsigned bus, uint64_t now)
{
    bus_model *wire = &world->bus[bus];

    if (wire->sending || now < wire->idle || now < wire->blocked_until) {
        return;
    }
    nominate(world, bus);
    bus_model_start(wire, now);
    if (wire->sending && wire->current.entry.tag >= BOARD_TAG) {
        world->chip[bus].on_wire = (int)(wire->current.entry.tag - BOARD_TAG);
    }
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
    for (size_t i = 0; i < world->remote_count; i++) {
        world_remote *remote = &world->remotes[i];

        if (!remote->done && remote->at <= now) {
            remote->done = true;
            hear(world, remote->frame.bus, &remote->frame, true);
        }
    }
}

static void happen(world *world, uint64_t now)
{
    world->now = now;
    apply_script(world, now);
    for (unsigned bus = 0; bus < world->count; bus++) {
        mcp2515_chip *chip = &world->chip[bus];

        finish(world, bus, now);
        start(world, bus, now);
        if (chip->complaint != NULL) {
            printf("fault %u %s\n", bus, chip->complaint);
            chip->complaint = NULL;
        }
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
    for (size_t i = 0; i < world->remote_count; i++) {
        if (!world->remotes[i].done) {
            sooner(world->remotes[i].at, at, &any);
        }
    }
    for (unsigned bus = 0; bus < world->count; bus++) {
        uint64_t then;

        if (bus_model_next(&world->bus[bus], world->now, &then)) {
            sooner(then, at, &any);
        }
    }
    return any;
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
        standing += (world->chip[bus].reg[0x2D] & 0xC0) != 0;
    }
    printf("measure frames_heard %u\n", received);
    printf("measure overruns %u\nmeasure overrun_flags_left %u\n", lost, standing);
}

void world_print_waiting(const world *world)
{
    for (unsigned bus = 0; bus < world->count; bus++) {
        const mcp2515_chip *chip = &world->chip[bus];

        for (int buffer = 0; buffer < MCP2515_BUFFERS; buffer++) {
            locum_frame frame;

            if ((chip->reg[0x30 + 0x10 * buffer] & 0x08) != 0) {
                mcp2515_frame_in(chip, buffer, &frame);
                print_frame(bus, &frame, chip->requested_at[buffer], NULL);
            }
        }
    }
}
