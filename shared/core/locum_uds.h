/*
 * Answers of a stand-in to a tester's requests (ISO 14229-1, from memory; RULES.md, rules A11 and
 * A13).
 */
#ifndef LOCUM_UDS_H
#define LOCUM_UDS_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_config.h"
#include "locum_rom.h"

#if LOCUM_CHANNELS
enum {
    LOCUM_UDS_DEFAULT_SESSION = 1,
    /* What is described beyond the smallest set. */
    LOCUM_UDS_RESET = 1,  /* resets are accepted */
    LOCUM_UDS_DENIED = 2, /* security access is known and denied */
    LOCUM_UDS_MEMORY = 4  /* an empty fault memory */
};

/* How long a tester waits for an answer, and, when told that it takes longer, for the next one. */
#define LOCUM_UDS_P2_US 50000u
#define LOCUM_UDS_P2_STAR_US 5000000u

/* A data identifier with its bytes, LOCUM_ROM. */
typedef struct {
    const uint8_t *bytes;
#if LOCUM_CHANNEL_SLOW
    uint32_t after_us; /* how long it takes to read it */
#endif
    uint16_t id;
    uint8_t length;
} locum_identifier;

typedef struct {
    const locum_identifier *identifiers; /* LOCUM_ROM */
    uint32_t answer_after_us;
    uint8_t identifier_count;
    uint8_t features; /* LOCUM_UDS_RESET and so on */
    uint8_t sessions; /* bit n: session n */
    uint16_t most;    /* bytes of the longest answer, at most LOCUM_ANSWER_BYTES */
} locum_uds_rule;

/* A request as it came; length 1..LOCUM_REQUEST_BYTES. */
typedef struct {
    const uint8_t *bytes;
    uint8_t length;
    bool functional;
} locum_uds_request;

/*
 * Writes the answer and returns its length; 0: no answer. May change the session. after_us: how
 * long the answer takes.
 */
uint16_t locum_uds_answer(const locum_uds_rule *rule, uint8_t *session,
                          const locum_uds_request *request, uint8_t *answer, uint32_t *after_us);

#if LOCUM_CHANNEL_SLOW
enum { LOCUM_UDS_PENDING_BYTES = 3 };

/* Writes that the answer to a service takes longer. */
void locum_uds_pend(uint8_t service, uint8_t *answer);
#endif
#endif

#endif
