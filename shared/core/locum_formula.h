/*
 * Arithmetic of formulas on 32-bit signed integers, as RULES.md defines it. Generated code uses a
 * plain operator where its result is the same for all values that can occur, and one of these
 * functions elsewhere.
 */
#ifndef LOCUM_FORMULA_H
#define LOCUM_FORMULA_H

#include <stdbool.h>
#include <stdint.h>

static inline int32_t locum_truth(bool holds)
{
    return holds ? 1 : 0;
}

/* The number with the same bits in two's complement. */
static inline int32_t locum_signed(uint32_t bits)
{
    return bits <= 0x7FFFFFFFu ? (int32_t)bits : -1 - (int32_t)(0xFFFFFFFFu - bits);
}

/* The lowest width bits (1..32) as a number in two's complement. */
static inline int32_t locum_sign_extend(uint32_t bits, uint8_t width)
{
    const uint32_t sign = (uint32_t)1u << (width - 1u);

    return locum_signed(((bits & (sign | (sign - 1u))) ^ sign) - sign);
}

static inline int32_t locum_add(int32_t a, int32_t b)
{
    return locum_signed((uint32_t)a + (uint32_t)b);
}

static inline int32_t locum_subtract(int32_t a, int32_t b)
{
    return locum_signed((uint32_t)a - (uint32_t)b);
}

static inline int32_t locum_multiply(int32_t a, int32_t b)
{
    return locum_signed((uint32_t)a * (uint32_t)b);
}

static inline int32_t locum_negate(int32_t x)
{
    return locum_signed((uint32_t)0u - (uint32_t)x);
}

/* Compilers take the comparison of a complement, or of an exclusive-or that amounts to one, for a
 * mistake; this hides from them where the value comes from. */
static inline int32_t locum_same(int32_t x)
{
    return x;
}

static inline int32_t locum_abs(int32_t x)
{
    return x < 0 ? locum_negate(x) : x;
}

/* Towards zero; 0 when b is 0. */
static inline int32_t locum_divide(int32_t a, int32_t b)
{
    if (b == 0) {
        return 0;
    }
    return b == -1 ? locum_negate(a) : a / b;
}

/* With the sign of a; 0 when b is 0. */
static inline int32_t locum_remainder(int32_t a, int32_t b)
{
    return (b == 0 || b == -1) ? 0 : a % b;
}

/* 0 when count lies outside 0..31. */
static inline int32_t locum_shift_left(int32_t x, int32_t count)
{
    return (count < 0 || count > 31) ? 0 : locum_signed((uint32_t)x << count);
}

/* Keeps the sign; 0 when count lies outside 0..31. */
static inline int32_t locum_shift_right(int32_t x, int32_t count)
{
    if (count < 0 || count > 31) {
        return 0;
    }
    return x < 0 ? locum_signed(~(~(uint32_t)x >> count)) : x >> count;
}

static inline int32_t locum_min(int32_t a, int32_t b)
{
    return a < b ? a : b;
}

static inline int32_t locum_max(int32_t a, int32_t b)
{
    return a > b ? a : b;
}

/* Not above highest, and not below lowest as far as that allows. */
static inline int32_t locum_clamp(int32_t x, int32_t lowest, int32_t highest)
{
    return locum_min(locum_max(x, lowest), highest);
}

/* count bits (1..31) of x, the lowest of them at first; first + count <= 32. */
static inline int32_t locum_bits(int32_t x, uint8_t first, uint8_t count)
{
    return (int32_t)(((uint32_t)x >> first) & (((uint32_t)1u << count) - 1u));
}

#endif
