/*
 * Checksums over payload bytes. CRCs use tables of 16 entries, one per value of a nibble: a
 * fraction of the flash of a byte table at twice the steps.
 *
 * A register that is not 8, 16, 32 or 64 bits wide sits left-aligned in the next wider one when
 * bits go in highest first, right-aligned when they go in lowest first ("reflected").
 */
#ifndef LOCUM_CHECKSUM_H
#define LOCUM_CHECKSUM_H

#include <stdint.h>

#include "locum_rom.h"

/* Each takes the register, reads count bytes and gives the new register. Tables are LOCUM_ROM. */
uint8_t locum_crc8(const uint8_t *table, uint8_t crc, const uint8_t *bytes, uint8_t count);
uint8_t locum_crc8_reflected(const uint8_t *table, uint8_t crc, const uint8_t *bytes,
                             uint8_t count);
uint16_t locum_crc16(const uint16_t *table, uint16_t crc, const uint8_t *bytes, uint8_t count);
uint16_t locum_crc16_reflected(const uint16_t *table, uint16_t crc, const uint8_t *bytes,
                               uint8_t count);
uint32_t locum_crc32(const uint32_t *table, uint32_t crc, const uint8_t *bytes, uint8_t count);
uint32_t locum_crc32_reflected(const uint32_t *table, uint32_t crc, const uint8_t *bytes,
                               uint8_t count);
uint64_t locum_crc64(const uint64_t *table, uint64_t crc, const uint8_t *bytes, uint8_t count);
uint64_t locum_crc64_reflected(const uint64_t *table, uint64_t crc, const uint8_t *bytes,
                               uint8_t count);

/* The lowest width bits in opposite order; for CRCs that reflect only one of input and output. */
uint32_t locum_reflect(uint32_t value, uint8_t width);

uint16_t locum_sum(uint16_t sum, const uint8_t *bytes, uint8_t count);
uint16_t locum_nibble_sum(uint16_t sum, const uint8_t *bytes, uint8_t count);
uint16_t locum_xor(uint16_t sum, const uint8_t *bytes, uint8_t count);
uint16_t locum_nibble_xor(uint16_t sum, const uint8_t *bytes, uint8_t count);

/* The message checksum of SAE J1939-71, 3 bits, from the sum of all bytes of payload and
 * identifier. */
uint8_t locum_fold_j1939(uint16_t sum);

#endif
