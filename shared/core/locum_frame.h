/* Data frames, and the marks in their identifiers. */
#ifndef LOCUM_FRAME_H
#define LOCUM_FRAME_H

#include <stdint.h>

#include "locum_config.h"

/* Set in an identifier that has 29 bits. */
#define LOCUM_ID_EXTENDED 0x80000000u
/* Set in the identifier of a CAN FD frame, and in that of one that also switches the bit rate. */
#define LOCUM_ID_FD 0x40000000u
#define LOCUM_ID_SWITCH_RATE 0x20000000u

/* A data frame as handed to a controller. */
typedef struct {
    uint32_t id; /* 11 bits, or 29 bits with LOCUM_ID_EXTENDED; marks of CAN FD */
    uint8_t bus;
    uint8_t length; /* data bytes, 0..LOCUM_MAX_LENGTH */
    uint8_t data[LOCUM_MAX_LENGTH];
} locum_frame;

#endif
