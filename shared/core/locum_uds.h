/*
 * Answers of a stand-in to a tester's requests (ISO 14229-1, from memory; RULES.md, rule A11).
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

/* A data identifier with its bytes, LOCUM_ROM. */
typedef struct {
    const uint8_t *bytes;
    uint16_t id;
    uint8_t length;
} locum_identifier;

typedef struct {
    const locum_identifier *identifiers; /* LOCUM_ROM */
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

/* Writes the answer and returns its length; 0: no answer. May change the session. */
uint16_t locum_uds_answer(const locum_uds_rule *rule, uint8_t *session,
                          const locum_uds_request *request, uint8_t *answer);
#endif

#endif
