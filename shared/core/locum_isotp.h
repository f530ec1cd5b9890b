/*
 * A channel on which a stand-in answers a tester: requests and answers of many bytes in frames of
 * eight, or up to 64 with CAN FD (ISO 15765-2, from memory; RULES.md, rules A1 to A13). Knows
 * nothing of controllers: the core brings frames and times, and releases the answer frame when
 * asked.
 */
#ifndef LOCUM_ISOTP_H
#define LOCUM_ISOTP_H

#include "locum_uds.h"

#if LOCUM_CHANNELS
#define LOCUM_REQUEST_BYTES 64u

/* One row per channel. */
typedef struct {
    locum_uds_rule uds;
    uint8_t row;        /* of the answer frame among the send rules */
    uint8_t event;      /* of the answer frame among the event rules */
    uint8_t request;    /* row among the receive rules */
    uint8_t functional; /* row among the receive rules; LOCUM_NONE: none */
    uint8_t block_size; /* what this side asks for */
    uint8_t separation; /* coded as on the wire */
    uint8_t padding;
    bool padded; /* frames of fewer than 8 bytes, too */
#if LOCUM_CHANNEL_FD
    bool fd;
    uint8_t frame_length; /* of the longest frame sent: 8, 12, ... 64 */
#endif
} locum_channel_rule;

typedef struct {
    uint32_t timer_us;   /* N_As, N_Ar, N_Bs or N_Cr, while timed */
    uint32_t session_us; /* S3, while session_timed */
    uint32_t separation_us;
#if LOCUM_CHANNEL_SLOW
    uint32_t answer_us; /* when the answer is due */
    bool pends;         /* the frame says "response pending" */
#endif
    uint16_t length; /* of the request or the answer */
    uint16_t at;     /* bytes taken, or accepted by the controller */
    uint8_t phase;
    uint8_t flow;     /* first byte of the flow control to send; 0: the frame carries an answer */
    uint8_t sequence; /* number of the next consecutive frame */
    uint8_t block;    /* consecutive frames before the next flow control; 0: no limit */
    uint8_t session;
#if LOCUM_CHANNEL_FD
    uint8_t first_length; /* of the first frame of a request */
#endif
    bool timed;
    bool session_timed;
    bool leaving; /* a controller holds a frame of this channel */
    uint8_t request[LOCUM_REQUEST_BYTES];
    uint8_t answer[LOCUM_ANSWER_BYTES];
} locum_channel_state;

/* What the core has to do for a channel. */
typedef enum {
    LOCUM_CHANNEL_RESTS,
    LOCUM_CHANNEL_DROPS, /* withdraw the answer frame */
    LOCUM_CHANNEL_ASKS   /* withdraw it, then release it at the given time */
} locum_channel_wish;

/* Forgets everything. */
void locum_isotp_reset(locum_channel_state *state);

/* Takes a frame from the request or the functional identifier. release_us: written with ASKS. */
locum_channel_wish locum_isotp_take(const locum_channel_rule *rule, locum_channel_state *state,
                                    const uint8_t *data, uint8_t length, bool functional,
                                    uint32_t now_us, uint32_t *release_us);

/* Writes the next frame; returns its length. Changes nothing. */
uint8_t locum_isotp_compose(const locum_channel_rule *rule, const locum_channel_state *state,
                            uint8_t *data);

/* The controller has accepted what was composed. */
void locum_isotp_accepted(const locum_channel_rule *rule, locum_channel_state *state);

/* The frame has left the controller. */
locum_channel_wish locum_isotp_left(locum_channel_state *state, uint32_t now_us,
                                    uint32_t *release_us);

/* Lets timers run out that end at at_us or before; RESTS or DROPS. */
locum_channel_wish locum_isotp_tick(locum_channel_state *state, uint32_t at_us);
#endif

#endif
