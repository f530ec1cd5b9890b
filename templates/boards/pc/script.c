#include "script.h"

#include <inttypes.h>
#include <string.h>

static bool parse_data(const char *text, locum_frame *frame)
{
    size_t digits = strlen(text);

    frame->length = 0;
    if (strcmp(text, "-") == 0) {
        return true;
    }
    if (digits % 2u != 0u || digits > 2u * LOCUM_MAX_LENGTH) {
        return false;
    }
    for (size_t i = 0; i < digits; i += 2u) {
        unsigned value;

        if (sscanf(text + i, "%2x", &value) != 1) {
            return false;
        }
        frame->data[frame->length++] = (uint8_t)value;
    }
    return true;
}

static bool parse_traffic(script *script, const char *line)
{
    script_traffic *traffic;
    unsigned bus;
    char data[131];

    if (script->traffic_count == SCRIPT_MAX_TRAFFIC) {
        return false;
    }
    traffic = &script->traffic[script->traffic_count++];
    if (sscanf(line, "traffic %u %" SCNx32 " %130s %" SCNu64 " %" SCNu64 " %" SCNu64, &bus,
               &traffic->frame.id, data, &traffic->next, &traffic->period, &traffic->until) != 6) {
        return false;
    }
    traffic->frame.bus = (uint8_t)bus;
    return parse_data(data, &traffic->frame);
}

/* A line about a bus-off or a reset. */
static bool parse_event(script *script, const char *line, bool *known)
{
    static const char *const causes[] = {"power", "watchdog", "brownout"};
    unsigned number;
    uint64_t at;
    char cause[16];

    *known = true;
    if (sscanf(line, "busoff %u %" SCNu64, &number, &at) == 2) {
        const script_event event = {at, (uint8_t)number};

        if (script->bus_off_count == SCRIPT_MAX_SPANS) {
            return false;
        }
        script->bus_offs[script->bus_off_count++] = event;
        return true;
    }
    if (sscanf(line, "reset %" SCNu64 " %15s", &at, cause) == 2) {
        for (uint8_t i = 0; i < 3u && script->reset_count < SCRIPT_MAX_SPANS; i++) {
            if (strcmp(cause, causes[i]) == 0) {
                const script_event event = {at, i};

                script->resets[script->reset_count++] = event;
                return true;
            }
        }
        return false;
    }
    *known = false;
    return false;
}

static bool parse_line(script *script, const char *line)
{
    unsigned number;
    unsigned level;
    uint64_t from;
    uint64_t until;
    bool known;
    const bool event = parse_event(script, line, &known);

    if (known) {
        return event;
    }
    if (line[0] == '\0' || line[0] == '#') {
        return true;
    }
    if (sscanf(line, "end %" SCNu64, &script->end) == 1) {
        return true;
    }
    if (sscanf(line, "clock %" SCNu32, &script->clock) == 1) {
        return true;
    }
    if (sscanf(line, "input %" SCNu64 " %u %u", &from, &number, &level) == 3) {
        script_input *input = &script->inputs[script->input_count];

        if (script->input_count == SCRIPT_MAX_INPUTS) {
            return false;
        }
        input->at = from;
        input->input = (uint8_t)number;
        input->level = level != 0u;
        script->input_count++;
        return true;
    }
    if (sscanf(line, "blocked %u %" SCNu64 " %" SCNu64, &number, &from, &until) == 3 &&
        script->blocked_count < SCRIPT_MAX_SPANS) {
        const script_span span = {from, until, (uint8_t)number};

        script->blocked[script->blocked_count++] = span;
        return true;
    }
    if (sscanf(line, "stall %" SCNu64 " %" SCNu64, &from, &until) == 2 &&
        script->stall_count < SCRIPT_MAX_SPANS) {
        const script_span span = {from, until, 0};

        script->stalls[script->stall_count++] = span;
        return true;
    }
    return parse_traffic(script, line);
}

bool script_read(script *script, FILE *file)
{
    char line[288];
    unsigned number = 0;

    memset(script, 0, sizeof *script);
    while (fgets(line, sizeof line, file) != NULL) {
        number++;
        line[strcspn(line, "\r\n")] = '\0';
        if (!parse_line(script, line)) {
            fprintf(stderr, "script line %u is not understood: %s\n", number, line);
            return false;
        }
    }
    return true;
}

void script_print_frame(const locum_frame *frame, const char *accepted, const char *start,
                        const char *end)
{
    static const char digits[] = "0123456789ABCDEF";
    char data[2u * LOCUM_MAX_LENGTH + 2u] = "-";

    for (size_t i = 0; i < frame->length; i++) {
        data[2u * i] = digits[frame->data[i] >> 4];
        data[2u * i + 1u] = digits[frame->data[i] & 15u];
        data[2u * i + 2u] = '\0';
    }
    printf("frame %u %08" PRIX32 " %s %s %s %s\n", (unsigned)frame->bus, frame->id, data, accepted,
           start, end);
}
