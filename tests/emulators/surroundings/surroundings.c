#include "surroundings.h"

#include <inttypes.h>
#include <stdio.h>

#define NS_PER_SECOND 1000000000u
#define NS SURROUNDINGS_NS_PER_US
#define BOARD_TAG 0x10000u /* the script's traffic has its index as mark */

/* Error flags, error delimiter and intermission (ISO 11898-1, from memory). */
#define ERROR_FRAME_BITS 23u

void surroundings_add(surroundings *around, uint32_t rate, uint32_t data_rate)
{
    surroundings_bus *bus = &around->buses[around->count++];

    bus_model_init(&bus->wire, rate, NS_PER_SECOND);
    bus->wire.data_rate = data_rate;
}

void surroundings_attach(surroundings *around, unsigned bus, const station *station,
                         void *controller)
{
    around->buses[bus].station = station;
    around->buses[bus].controller = controller;
}

void surroundings_print(unsigned bus, const locum_frame *frame, uint64_t asked_at,
                        const bus_report *report)
{
    const uint64_t times[3] = {asked_at, report != NULL ? report->start : 0,
                               report != NULL ? report->end : 0};
    locum_frame named = *frame;
    char text[3][32];

    for (unsigned i = 0; i < 3u; i++) {
        snprintf(text[i], sizeof text[i], "%" PRIu64 ".%03u", times[i] / NS,
                 (unsigned)(times[i] % NS));
    }
    named.bus = (uint8_t)bus;
    script_print_frame(&named, text[0], report != NULL ? text[1] : "-",
                       report != NULL ? text[2] : "-");
}

static void release_traffic(surroundings *around)
{
    for (size_t i = 0; i < around->script.traffic_count; i++) {
        script_traffic *traffic = &around->script.traffic[i];

        while (traffic->next < traffic->until && traffic->next * NS <= around->now) {
            bus_model *wire = &around->buses[traffic->frame.bus].wire;

            if (!bus_model_waits(wire, (uint32_t)i) &&
                !bus_model_put(wire, &traffic->frame, (uint32_t)i, traffic->next * NS)) {
                printf("fault %u too much traffic waits\n", (unsigned)traffic->frame.bus);
            }
            traffic->next =
                traffic->period == 0u ? traffic->until : traffic->next + traffic->period;
        }
    }
}

static void apply_script(surroundings *around)
{
    const script *script = &around->script;
    uint8_t bus;
    unsigned errors;

    while (around->inputs_done < script->input_count &&
           script->inputs[around->inputs_done].at * NS <= around->now) {
        const script_input *input = &script->inputs[around->inputs_done++];

        around->pins.input(around->pins.owner, input->input, input->level);
    }
    for (size_t i = 0; i < script->blocked_count; i++) {
        const script_span *span = &script->blocked[i];

        if (!around->blocked_done[i] && span->from * NS <= around->now) {
            around->blocked_done[i] = true;
            around->buses[span->bus].wire.blocked_until = span->until * NS;
        }
    }
    release_traffic(around);
    while (bus_offs_take(&around->offs, script, around->now, &bus, &errors)) {
        surroundings_bus *hit = &around->buses[bus];

        if (hit->station->on_bus(hit->controller)) {
            hit->station->counts_errors(hit->controller, errors);
        }
    }
}

static void finish(surroundings *around, unsigned number)
{
    surroundings_bus *bus = &around->buses[number];
    bus_report report;

    if (!bus_model_finish(&bus->wire, around->now, &report)) {
        return;
    }
    if (report.entry.tag >= BOARD_TAG) {
        surroundings_print(number, &report.entry.frame, report.entry.offered, &report);
        bus->station->sent(bus->controller, (int)(report.entry.tag - BOARD_TAG));
    } else if (bus->station->on_bus(bus->controller)) {
        around->heard++;
        bus->station->heard(bus->controller, &report.entry.frame);
    }
}

static void count_recessive(surroundings *around, surroundings_bus *bus)
{
    const unsigned runs = bus->station->awaits(bus->controller);

    if (runs != 0u && runs != bus->runs) {
        recessive_begin(&bus->recessive, runs, &bus->wire, around->now);
    }
    bus->runs = runs;
    recessive_see(&bus->recessive, &bus->wire);
    if (runs != 0u && !bus->wire.sending &&
        around->now >= recessive_done_at(&bus->recessive, &bus->wire)) {
        bus->runs = 0;
        bus->station->has_seen(bus->controller, runs);
    }
}

static bool is_free(const surroundings *around, const bus_model *wire)
{
    return !wire->sending && around->now >= wire->idle && around->now >= wire->blocked_until;
}

/* The controller decides anew before each start of frame what it sends. */
static void start(surroundings *around, unsigned number)
{
    surroundings_bus *bus = &around->buses[number];
    locum_frame frame = {0};
    uint64_t asked_at = 0;
    int place;

    if (!is_free(around, &bus->wire)) {
        return;
    }
    place = bus->station->on_bus(bus->controller)
                ? bus->station->candidate(bus->controller, &frame, &asked_at)
                : -1;
    if (place >= 0) {
        frame.bus = (uint8_t)number;
        (void)bus_model_put(&bus->wire, &frame, BOARD_TAG + (uint32_t)place, asked_at);
    }
    bus_model_start(&bus->wire, around->now);
    if (place < 0) {
        return;
    }
    if (bus->wire.sending && bus->wire.current.entry.tag >= BOARD_TAG) {
        bus->station->started(bus->controller, place);
    } else {
        (void)bus_model_take_back(&bus->wire, BOARD_TAG + (uint32_t)place);
    }
}

static void happen(surroundings *around, uint64_t now)
{
    around->now = now;
    apply_script(around);
    for (unsigned i = 0; i < around->count; i++) {
        finish(around, i);
        count_recessive(around, &around->buses[i]);
        start(around, i);
    }
}

void surroundings_cut(surroundings *around, unsigned number)
{
    bus_model *wire = &around->buses[number].wire;

    if (wire->sending && wire->current.entry.tag >= BOARD_TAG) {
        surroundings_print(number, &wire->current.entry.frame, wire->current.entry.offered, NULL);
        wire->sending = false;
        wire->idle = around->now + (uint64_t)ERROR_FRAME_BITS * NS_PER_SECOND / wire->rate;
    }
}

static void sooner(uint64_t *next, uint64_t candidate, uint64_t now)
{
    if (candidate > now && candidate < *next) {
        *next = candidate;
    }
}

uint64_t surroundings_next(const surroundings *around)
{
    const script *script = &around->script;
    uint64_t next = UINT64_MAX;

    if (around->inputs_done < script->input_count) {
        sooner(&next, script->inputs[around->inputs_done].at * NS, around->now);
    }
    for (size_t i = 0; i < script->blocked_count; i++) {
        sooner(&next, script->blocked[i].from * NS, around->now);
    }
    for (size_t i = 0; i < script->traffic_count; i++) {
        if (script->traffic[i].next < script->traffic[i].until) {
            sooner(&next, script->traffic[i].next * NS, around->now);
        }
    }
    if (around->resets_done < script->reset_count) {
        sooner(&next, script->resets[around->resets_done].at * NS, around->now);
    }
    sooner(&next, bus_offs_next(&around->offs, script), around->now);
    for (unsigned i = 0; i < around->count; i++) {
        const surroundings_bus *bus = &around->buses[i];

        if (bus->wire.sending) {
            sooner(&next, bus->wire.current.end, around->now);
        }
        /* Whoever waits, starts then. */
        sooner(&next, bus->wire.idle, around->now);
        sooner(&next, bus->wire.blocked_until, around->now);
        if (bus->runs != 0u && !bus->wire.sending) {
            sooner(&next, recessive_done_at(&bus->recessive, &bus->wire), around->now);
        }
    }
    return next;
}

void surroundings_advance(surroundings *around, uint64_t now)
{
    for (uint64_t at = surroundings_next(around); at < now; at = surroundings_next(around)) {
        happen(around, at);
    }
    happen(around, now);
}

bool surroundings_take_reset(surroundings *around, locum_reset_cause *cause)
{
    const script *script = &around->script;

    if (around->resets_done == script->reset_count ||
        script->resets[around->resets_done].at * NS > around->now) {
        return false;
    }
    *cause = (locum_reset_cause)script->resets[around->resets_done++].what;
    return true;
}
