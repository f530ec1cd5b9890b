#include "options.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

const char options_usage[] =
    "usage: avr_board FIRMWARE.elf SCRIPT [options]\n"
    "  --controller CS=B2,INT=D2,crystal=16000000,rate=500000[,start=1000]\n"
    "               an MCP2515 on the next bus; start: microseconds until its crystal swings\n"
    "  --input N=C0 pin of input N\n"
    "  --watch B0   print the levels that a pin puts out\n"
    "  --remote 0=0x155,2@12000\n"
    "               another node asks bus 0 for frame 0x155 of 2 bytes at 12000 us\n"
    "  --errors 0=104@12000\n"
    "               the transmit error counter of bus 0 shows 104 from 12000 us "
    "on\n" SPI_TROUBLES_USAGE "  --mutate OFFSET=BYTE\n"
    "               change a byte of the flash before the start\n";

static bool parse_pin(const char *text, board_pin *pin)
{
    unsigned bit;
    char port;
    char rest;

    if (sscanf(text, "%c%u%c", &port, &bit, &rest) != 2 || port < 'B' || port > 'D' || bit > 7) {
        return false;
    }
    pin->port = port;
    pin->bit = (uint8_t)bit;
    return true;
}

static bool parse_controller(const char *text, controller_option *controller)
{
    char cs[4];
    char interrupt[4];
    const int read =
        sscanf(text, "CS=%3[^,],INT=%3[^,],crystal=%" SCNu32 ",rate=%" SCNu32 ",start=%" SCNu32, cs,
               interrupt, &controller->crystal_hz, &controller->rate, &controller->start_us);

    if (read == 4) {
        controller->start_us = 1000;
    }
    return read >= 4 && controller->crystal_hz != 0 && controller->rate != 0 &&
           parse_pin(cs, &controller->cs) && parse_pin(interrupt, &controller->interrupt);
}

static bool parse_option(options *options, const char *name, const char *value)
{
    if (strcmp(name, "--controller") == 0) {
        return options->controller_count < WORLD_MAX_BUSES &&
               parse_controller(value, &options->controllers[options->controller_count++]);
    }
    if (strcmp(name, "--input") == 0) {
        unsigned number;
        char pin[4];

        if (sscanf(value, "%u=%3s", &number, pin) != 2 || number >= OPTIONS_MAX_INPUTS) {
            return false;
        }
        options->has_input[number] = true;
        return parse_pin(pin, &options->inputs[number]);
    }
    if (strcmp(name, "--watch") == 0) {
        options->watching = parse_pin(value, &options->watched);
        return options->watching;
    }
    if (strcmp(name, "--remote") == 0) {
        world_remote *remote = &options->remotes[options->remote_count];
        unsigned length;
        unsigned bus;

        if (options->remote_count == WORLD_MAX_REMOTES ||
            sscanf(value, "%u=%" SCNx32 ",%u@%" SCNu64, &bus, &remote->frame.id, &length,
                   &remote->at) != 4 ||
            bus >= WORLD_MAX_BUSES || length > LOCUM_MAX_LENGTH) {
            return false;
        }
        remote->frame.bus = (uint8_t)bus;
        remote->frame.length = (uint8_t)length;
        remote->at *= 1000u;
        options->remote_count++;
        return true;
    }
    if (strcmp(name, "--errors") == 0) {
        world_errors *errors = &options->errors[options->error_count];

        if (options->error_count == WORLD_MAX_ERRORS ||
            sscanf(value, "%u=%u@%" SCNu64, &errors->bus, &errors->transmit_errors, &errors->at) !=
                3 ||
            errors->bus >= WORLD_MAX_BUSES) {
            return false;
        }
        errors->at *= 1000u;
        options->error_count++;
        return true;
    }
    if (strcmp(name, "--mutate") == 0) {
        int offset;
        int byte;

        if (sscanf(value, "%i=%i", &offset, &byte) != 2 || offset < 0 || byte < 0 || byte > 255) {
            return false;
        }
        options->mutate = true;
        options->mutate_offset = (uint32_t)offset;
        options->mutate_byte = (uint8_t)byte;
        return true;
    }
    return spi_troubles_option(&options->troubles, name, value, WORLD_MAX_BUSES);
}

bool options_read(options *options, int argc, char **argv)
{
    memset(options, 0, sizeof *options);
    for (int i = 1; i < argc; i++) {
        if (argv[i][0] == '-') {
            if (i + 1 == argc || !parse_option(options, argv[i], argv[i + 1])) {
                fprintf(stderr, "option is not understood: %s\n%s", argv[i], options_usage);
                return false;
            }
            i++;
        } else if (options->firmware == NULL) {
            options->firmware = argv[i];
        } else if (options->script == NULL) {
            options->script = argv[i];
        } else {
            fprintf(stderr, "one argument too many: %s\n%s", argv[i], options_usage);
            return false;
        }
    }
    if (options->script == NULL || options->controller_count == 0) {
        fprintf(stderr, "%s", options_usage);
        return false;
    }
    return true;
}
