#include "locum_uds.h"

#if LOCUM_CHANNELS

enum {
    SESSION_CONTROL = 0x10,
    RESET = 0x11,
    CLEAR = 0x14,
    READ_FAULTS = 0x19,
    READ_IDENTIFIERS = 0x22,
    SECURITY_ACCESS = 0x27,
    TESTER_PRESENT = 0x3E,
    FAULT_SETTING = 0x85
};

enum {
    POSITIVE = 0,
    SERVICE_NOT_SUPPORTED = 0x11,
    SUB_FUNCTION_NOT_SUPPORTED = 0x12,
    WRONG_LENGTH = 0x13,
    ANSWER_TOO_LONG = 0x14,
    CONDITIONS_NOT_CORRECT = 0x22,
    OUT_OF_RANGE = 0x31,
    DENIED = 0x33,
    RESPONSE_PENDING = 0x78,
    SUB_FUNCTION_NOT_IN_SESSION = 0x7E,
    SERVICE_NOT_IN_SESSION = 0x7F
};

enum { SUPPRESS = 0x80, NEGATIVE = 0x7F, ANSWERED = 0x40, ALL_FAULTS = 0xFF };

/* An answer while it is written: its code, or 0, and its bytes behind the service. */
typedef struct {
    uint8_t code;
    uint16_t length;
    uint8_t *bytes;
#if LOCUM_CHANNEL_SLOW
    uint32_t after_us;
#endif
} outcome;

static bool has(const locum_uds_rule *rule, uint8_t feature)
{
    return (LOCUM_ROM_U8(rule->features) & feature) != 0u;
}

static void put(outcome *answer, uint8_t byte)
{
    answer->bytes[answer->length++] = byte;
}

/* ---- services with a sub-function ---- */

static bool knows(const locum_uds_rule *rule, uint8_t service)
{
    switch (service) {
    case SESSION_CONTROL:
    case RESET:
    case TESTER_PRESENT:
        return true;
    case SECURITY_ACCESS:
        return has(rule, LOCUM_UDS_DENIED);
    default:
        return (service == READ_FAULTS || service == FAULT_SETTING) && has(rule, LOCUM_UDS_MEMORY);
    }
}

static bool has_sub_function(const locum_uds_rule *rule, uint8_t service, uint8_t sub)
{
    switch (service) {
    case SESSION_CONTROL:
        return sub < 8u && (LOCUM_ROM_U8(rule->sessions) & (1u << sub)) != 0u;
    case RESET:
        return sub >= 1u && sub <= 3u;
    case SECURITY_ACCESS:
        return sub >= 1u && sub <= 0x7Eu;
    case READ_FAULTS:
        return sub == 1u || sub == 2u || sub == 0x0Au;
    case FAULT_SETTING:
        return sub == 1u || sub == 2u;
    default:
        return sub == 0u; /* tester present */
    }
}

static bool has_length(uint8_t service, uint8_t sub, uint8_t length)
{
    if (service == SECURITY_ACCESS || service == FAULT_SETTING) {
        return true; /* optional records may follow */
    }
    return length == (service == READ_FAULTS && sub != 0x0Au ? 3u : 2u);
}

static void read_faults(outcome *answer, uint8_t sub)
{
    put(answer, ALL_FAULTS); /* status bits that are kept */
    if (sub == 1u) {
        put(answer, 1); /* format of the numbers: ISO 14229-1 */
        put(answer, 0); /* how many, high byte first */
        put(answer, 0);
    }
}

static void do_sub_function(const locum_uds_rule *rule, uint8_t *session, uint8_t service,
                            uint8_t sub, outcome *answer)
{
    put(answer, sub);
    switch (service) {
    case SESSION_CONTROL:
        *session = sub;
        put(answer, 0x00); /* P2 50 ms */
        put(answer, 0x32);
        put(answer, 0x01); /* P2* 5 s, in 10 ms */
        put(answer, 0xF4);
        break;
    case RESET:
        if (has(rule, LOCUM_UDS_RESET)) {
            *session = LOCUM_UDS_DEFAULT_SESSION;
        } else {
            answer->code = CONDITIONS_NOT_CORRECT;
        }
        break;
    case SECURITY_ACCESS:
        answer->code = DENIED;
        break;
    case READ_FAULTS:
        read_faults(answer, sub);
        break;
    case FAULT_SETTING:
        if (*session == LOCUM_UDS_DEFAULT_SESSION) {
            answer->code = SERVICE_NOT_IN_SESSION;
        }
        break;
    default:
        break;
    }
}

/* What takes so long has been announced by then, and what is announced is sent. */
static bool is_announced(const outcome *answer)
{
#if LOCUM_CHANNEL_SLOW
    return answer->after_us > LOCUM_UDS_P2_US;
#else
    (void)answer;
    return false;
#endif
}

static void sub_function(const locum_uds_rule *rule, uint8_t *session,
                         const locum_uds_request *request, outcome *answer)
{
    const uint8_t service = request->bytes[0];
    uint8_t sub;

    if (!knows(rule, service)) {
        answer->code = SERVICE_NOT_SUPPORTED;
        return;
    }
    if (request->length < 2u) {
        answer->code = WRONG_LENGTH;
        return;
    }
    sub = (uint8_t)(request->bytes[1] & ~(unsigned)SUPPRESS);
    if (!has_sub_function(rule, service, sub)) {
        answer->code = SUB_FUNCTION_NOT_SUPPORTED;
    } else if (!has_length(service, sub, request->length)) {
        answer->code = WRONG_LENGTH;
    } else {
        do_sub_function(rule, session, service, sub, answer);
        if (answer->code == POSITIVE && (request->bytes[1] & SUPPRESS) != 0u &&
            !is_announced(answer)) {
            answer->length = 0;
        }
    }
}

/* ---- services without one ---- */

static void clear(const locum_uds_request *request, outcome *answer)
{
    if (request->length != 4u) {
        answer->code = WRONG_LENGTH;
    } else if ((request->bytes[1] & request->bytes[2] & request->bytes[3]) != 0xFFu) {
        answer->code = OUT_OF_RANGE;
    }
}

static const locum_identifier *find(const locum_uds_rule *rule, const uint8_t *id)
{
    const locum_identifier *identifiers = LOCUM_ROM_FN(const locum_identifier *, rule->identifiers);

    for (uint8_t i = LOCUM_ROM_U8(rule->identifier_count); i > 0u; i--, identifiers++) {
        if (LOCUM_ROM_U16(identifiers->id) == (uint16_t)(id[0] << 8 | id[1])) {
            return identifiers;
        }
    }
    return 0;
}

static void read_identifiers(const locum_uds_rule *rule, const locum_uds_request *request,
                             outcome *answer)
{
    if (request->length < 3u || request->length % 2u == 0u) {
        answer->code = WRONG_LENGTH;
        return;
    }
    for (uint8_t i = 1; i < request->length; i = (uint8_t)(i + 2u)) {
        const locum_identifier *found = find(rule, &request->bytes[i]);
        uint8_t length;

        if (found == 0) {
            continue;
        }
        length = LOCUM_ROM_U8(found->length);
        if (answer->length + 2u + length > LOCUM_ROM_U16(rule->most)) {
            answer->code = ANSWER_TOO_LONG;
            return;
        }
        put(answer, request->bytes[i]);
        put(answer, request->bytes[i + 1u]);
        LOCUM_ROM_COPY(&answer->bytes[answer->length], LOCUM_ROM_FN(const uint8_t *, found->bytes),
                       length);
        answer->length = (uint16_t)(answer->length + length);
#if LOCUM_CHANNEL_SLOW
        if (LOCUM_ROM_U32(found->after_us) > answer->after_us) {
            answer->after_us = LOCUM_ROM_U32(found->after_us);
        }
#endif
    }
    if (answer->length == 1u) {
        answer->code = OUT_OF_RANGE;
    }
}

/* ---- public ---- */

static bool is_said_to_all(uint8_t code)
{
    return code != SERVICE_NOT_SUPPORTED && code != SUB_FUNCTION_NOT_SUPPORTED &&
           code != OUT_OF_RANGE && code != SUB_FUNCTION_NOT_IN_SESSION &&
           code != SERVICE_NOT_IN_SESSION;
}

static uint16_t refuse(const locum_uds_request *request, const outcome *out)
{
    if (request->functional && !is_said_to_all(out->code) && !is_announced(out)) {
        return 0;
    }
    out->bytes[0] = NEGATIVE;
    out->bytes[1] = request->bytes[0];
    out->bytes[2] = out->code;
    return 3;
}

uint16_t locum_uds_answer(const locum_uds_rule *rule, uint8_t *session,
                          const locum_uds_request *request, uint8_t *answer, uint32_t *after_us)
{
    const uint8_t service = request->bytes[0];
    outcome out = {.code = POSITIVE, .length = 0, .bytes = answer};

    *after_us = LOCUM_ROM_U32(rule->answer_after_us);
#if LOCUM_CHANNEL_SLOW
    if (service == TESTER_PRESENT && *after_us > LOCUM_UDS_P2_US) {
        *after_us = LOCUM_UDS_P2_US; /* it asks for nothing that could take longer */
    }
    out.after_us = *after_us;
#endif
    put(&out, (uint8_t)(service + ANSWERED));
    if (service == READ_IDENTIFIERS) {
        read_identifiers(rule, request, &out);
    } else if (service == CLEAR && has(rule, LOCUM_UDS_MEMORY)) {
        clear(request, &out);
    } else {
        sub_function(rule, session, request, &out);
    }
    if (out.code != POSITIVE) {
        return refuse(request, &out);
    }
#if LOCUM_CHANNEL_SLOW
    *after_us = out.after_us;
#endif
    return out.length;
}

#if LOCUM_CHANNEL_SLOW
void locum_uds_pend(uint8_t service, uint8_t *answer)
{
    answer[0] = NEGATIVE;
    answer[1] = service;
    answer[2] = RESPONSE_PENDING;
}
#endif

#endif
