#include "mcp2515_timing.h"

#include <stdio.h>

#include "mcp2515_map.h"

/* A crystal, a resonator and their age; far below the tolerance of a bit. */
#define RATE_TOLERANCE 0.005
/* Common practice, no source: no vehicle bus samples outside this range. */
#define SAMPLE_FROM 50.0
#define SAMPLE_TO 90.0

typedef struct {
    unsigned prescaler;
    unsigned jump;
    unsigned propagation;
    unsigned phase1;
    unsigned phase2;
} segments;

static segments read_segments(const mcp2515_chip *chip)
{
    const unsigned cnf1 = chip->reg[R_CNF1];
    const unsigned cnf2 = chip->reg[R_CNF2];
    const unsigned cnf3 = chip->reg[R_CNF3];
    segments s;

    s.prescaler = 2 * ((cnf1 & 0x3F) + 1);
    s.jump = (cnf1 >> 6) + 1;
    s.propagation = (cnf2 & 7) + 1;
    s.phase1 = (cnf2 >> 3 & 7) + 1;
    /* BTLMODE 0: phase segment 2 is the longer of segment 1 and the processing time, 2 quanta. */
    s.phase2 = (cnf2 & 0x80) != 0 ? (cnf3 & 7) + 1 : (s.phase1 > 2 ? s.phase1 : 2);
    return s;
}

void mcp2515_timing_of(const mcp2515_chip *chip, mcp2515_timing *timing)
{
    const segments s = read_segments(chip);
    const unsigned before = 1 + s.propagation + s.phase1;
    const unsigned quanta = before + s.phase2;

    timing->rate = (double)chip->crystal_hz / s.prescaler / quanta;
    timing->sample_point = 100.0 * before / quanta;
}

bool mcp2515_timing_fits(const mcp2515_chip *chip, uint32_t rate, char *reason, size_t size)
{
    const segments s = read_segments(chip);
    mcp2515_timing timing;
    double off;

    mcp2515_timing_of(chip, &timing);
    off = timing.rate / rate - 1.0;
    if (off > RATE_TOLERANCE || off < -RATE_TOLERANCE) {
        snprintf(reason, size, "bit rate %.0f is not %u", timing.rate, (unsigned)rate);
    } else if (timing.sample_point < SAMPLE_FROM || timing.sample_point > SAMPLE_TO) {
        snprintf(reason, size, "sample point %.1f %% is not sane", timing.sample_point);
    } else if (s.phase2 < 2 || s.propagation + s.phase1 < s.phase2 || s.phase2 <= s.jump) {
        snprintf(reason, size, "bit timing breaks the rules of the data sheet");
    } else {
        return true;
    }
    return false;
}
