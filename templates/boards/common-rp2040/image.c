/*
 * Runs on the PC that builds the firmware:
 *
 *   image boot2 IN OUT   the second stage of the boot with its checksum in the last four of 256
 * bytes image uf2 IN OUT     a flash image from 0x10000000 on as a UF2 file
 *
 * The checksum is the one that the chip's ROM computes (datasheet of the RP2040, "Checksum"):
 * polynomial 0x04C11DB7, begun with all ones, neither reflected nor inverted. UF2 is an open format
 * (its published specification); the family is the RP2040's.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define BOOT2_BYTES 256u
#define CHECKED_BYTES 252u
#define CRC_POLYNOMIAL 0x04C11DB7u

#define FLASH 0x10000000u
#define BLOCK_BYTES 512u
#define PAYLOAD_BYTES 256u
#define UF2_MAGIC_0 0x0A324655u
#define UF2_MAGIC_1 0x9E5D5157u
#define UF2_MAGIC_END 0x0AB16F30u
#define UF2_HAS_FAMILY 0x00002000u
#define UF2_RP2040 0xE48BFF56u

static uint32_t crc(const uint8_t *bytes, size_t count)
{
    uint32_t value = 0xFFFFFFFFu;

    for (size_t i = 0; i < count; i++) {
        value ^= (uint32_t)bytes[i] << 24;
        for (int bit = 0; bit < 8; bit++) {
            value = (value & 0x80000000u) != 0u ? (value << 1) ^ CRC_POLYNOMIAL : value << 1;
        }
    }
    return value;
}

static void put(uint8_t *to, uint32_t value)
{
    for (int i = 0; i < 4; i++) {
        to[i] = (uint8_t)(value >> (8 * i));
    }
}

static int fail(const char *what, const char *name)
{
    fprintf(stderr, "image: %s: %s\n", name, what);
    return 1;
}

static int write_boot2(const uint8_t *bytes, size_t size, FILE *out, const char *name)
{
    uint8_t block[BOOT2_BYTES] = {0};

    if (size < 1u || size > BOOT2_BYTES) {
        return fail("the second stage of the boot has 1 to 256 bytes", name);
    }
    memcpy(block, bytes, size < CHECKED_BYTES ? size : CHECKED_BYTES);
    put(block + CHECKED_BYTES, crc(block, CHECKED_BYTES));
    return fwrite(block, sizeof block, 1, out) == 1u ? 0 : fail("cannot be written", name);
}

static int write_uf2(const uint8_t *bytes, size_t size, FILE *out, const char *name)
{
    const uint32_t blocks = (uint32_t)((size + PAYLOAD_BYTES - 1u) / PAYLOAD_BYTES);

    for (uint32_t i = 0; i < blocks; i++) {
        const size_t at = (size_t)i * PAYLOAD_BYTES;
        const size_t rest = size - at;
        uint8_t block[BLOCK_BYTES] = {0};

        put(block, UF2_MAGIC_0);
        put(block + 4, UF2_MAGIC_1);
        put(block + 8, UF2_HAS_FAMILY);
        put(block + 12, FLASH + (uint32_t)at);
        put(block + 16, PAYLOAD_BYTES);
        put(block + 20, i);
        put(block + 24, blocks);
        put(block + 28, UF2_RP2040);
        memcpy(block + 32, bytes + at, rest < PAYLOAD_BYTES ? rest : PAYLOAD_BYTES);
        put(block + BLOCK_BYTES - 4u, UF2_MAGIC_END);
        if (fwrite(block, sizeof block, 1, out) != 1u) {
            return fail("cannot be written", name);
        }
    }
    return 0;
}

int main(int argc, char **argv)
{
    static uint8_t bytes[2u << 20];
    FILE *in;
    FILE *out;
    size_t size;
    int result;

    if (argc != 4 || (strcmp(argv[1], "boot2") != 0 && strcmp(argv[1], "uf2") != 0)) {
        fputs("usage: image boot2|uf2 IN OUT\n", stderr);
        return 2;
    }
    in = fopen(argv[2], "rb");
    if (in == NULL) {
        return fail("cannot be read", argv[2]);
    }
    size = fread(bytes, 1, sizeof bytes, in);
    fclose(in);
    out = fopen(argv[3], "wb");
    if (out == NULL) {
        return fail("cannot be written", argv[3]);
    }
    result = strcmp(argv[1], "boot2") == 0 ? write_boot2(bytes, size, out, argv[3])
                                           : write_uf2(bytes, size, out, argv[3]);
    return fclose(out) == 0 ? result : fail("cannot be written", argv[3]);
}
