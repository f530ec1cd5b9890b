#include "locum_checksum.h"

uint8_t locum_crc8(const uint8_t *table, uint8_t crc, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        crc ^= *bytes++;
        crc = (uint8_t)((uint8_t)(crc << 4) ^ LOCUM_ROM_U8(table[crc >> 4]));
        crc = (uint8_t)((uint8_t)(crc << 4) ^ LOCUM_ROM_U8(table[crc >> 4]));
    }
    return crc;
}

uint8_t locum_crc8_reflected(const uint8_t *table, uint8_t crc, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        crc ^= *bytes++;
        crc = (uint8_t)((crc >> 4) ^ LOCUM_ROM_U8(table[crc & 15u]));
        crc = (uint8_t)((crc >> 4) ^ LOCUM_ROM_U8(table[crc & 15u]));
    }
    return crc;
}

uint16_t locum_crc16(const uint16_t *table, uint16_t crc, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        crc ^= (uint16_t)((uint16_t)*bytes++ << 8);
        crc = (uint16_t)((uint16_t)(crc << 4) ^ LOCUM_ROM_U16(table[crc >> 12]));
        crc = (uint16_t)((uint16_t)(crc << 4) ^ LOCUM_ROM_U16(table[crc >> 12]));
    }
    return crc;
}

uint16_t locum_crc16_reflected(const uint16_t *table, uint16_t crc, const uint8_t *bytes,
                               uint8_t count)
{
    while (count-- != 0u) {
        crc ^= *bytes++;
        crc = (uint16_t)((crc >> 4) ^ LOCUM_ROM_U16(table[crc & 15u]));
        crc = (uint16_t)((crc >> 4) ^ LOCUM_ROM_U16(table[crc & 15u]));
    }
    return crc;
}

uint32_t locum_crc32(const uint32_t *table, uint32_t crc, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        crc ^= (uint32_t)*bytes++ << 24;
        crc = (crc << 4) ^ LOCUM_ROM_U32(table[crc >> 28]);
        crc = (crc << 4) ^ LOCUM_ROM_U32(table[crc >> 28]);
    }
    return crc;
}

uint32_t locum_crc32_reflected(const uint32_t *table, uint32_t crc, const uint8_t *bytes,
                               uint8_t count)
{
    while (count-- != 0u) {
        crc ^= *bytes++;
        crc = (crc >> 4) ^ LOCUM_ROM_U32(table[crc & 15u]);
        crc = (crc >> 4) ^ LOCUM_ROM_U32(table[crc & 15u]);
    }
    return crc;
}

uint64_t locum_crc64(const uint64_t *table, uint64_t crc, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        crc ^= (uint64_t)*bytes++ << 56;
        crc = (crc << 4) ^ LOCUM_ROM_U64(table[crc >> 60]);
        crc = (crc << 4) ^ LOCUM_ROM_U64(table[crc >> 60]);
    }
    return crc;
}

uint64_t locum_crc64_reflected(const uint64_t *table, uint64_t crc, const uint8_t *bytes,
                               uint8_t count)
{
    while (count-- != 0u) {
        crc ^= *bytes++;
        crc = (crc >> 4) ^ LOCUM_ROM_U64(table[crc & 15u]);
        crc = (crc >> 4) ^ LOCUM_ROM_U64(table[crc & 15u]);
    }
    return crc;
}

uint32_t locum_reflect(uint32_t value, uint8_t width)
{
    uint32_t reflected = 0;

    while (width-- != 0u) {
        reflected = (reflected << 1) | (value & 1u);
        value >>= 1;
    }
    return reflected;
}

uint16_t locum_sum(uint16_t sum, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        sum = (uint16_t)(sum + *bytes++);
    }
    return sum;
}

uint16_t locum_nibble_sum(uint16_t sum, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        sum = (uint16_t)(sum + (*bytes >> 4) + (*bytes & 15u));
        bytes++;
    }
    return sum;
}

uint16_t locum_xor(uint16_t sum, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        sum ^= *bytes++;
    }
    return sum;
}

uint16_t locum_nibble_xor(uint16_t sum, const uint8_t *bytes, uint8_t count)
{
    while (count-- != 0u) {
        sum = (uint16_t)(sum ^ (*bytes >> 4) ^ (*bytes & 15u));
        bytes++;
    }
    return sum;
}

uint8_t locum_fold_j1939(uint16_t sum)
{
    const uint32_t s = sum;

    return (uint8_t)((((s >> 6) & 3u) + (s >> 3) + s) & 7u);
}
