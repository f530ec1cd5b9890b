/*
 * A node of an SAE J1939 network: claims its address, answers requests, sends long answers in
 * packets (J1939-21 and J1939-81, from memory; RULES.md, rules J1 to J9). Knows nothing of
 * controllers: the core brings frames and times, and releases the node's row when it wants to send.
 */
#ifndef LOCUM_J1939_H
#define LOCUM_J1939_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_config.h"
#include "locum_rom.h"

#if LOCUM_NODES

/* What is sent when a parameter group is asked for. */
typedef struct {
    const uint8_t *bytes; /* LOCUM_ROM; null: a frame of the module */
    uint32_t group;       /* parameter group number */
    uint16_t length;      /* 1..1785 */
    uint8_t event;        /* of that frame among the event rules */
} locum_group_answer;

/* One row per node. */
typedef struct {
    const locum_group_answer *answers; /* LOCUM_ROM */
    uint32_t spacing_us;               /* between packets to everybody */
    uint8_t name[8];                   /* lowest byte first, as sent */
    uint8_t answer_count;              /* 0..32 */
    uint8_t address;
    uint8_t module;
    uint8_t bus;
    uint8_t row;         /* of its frames among the send rules */
    uint8_t event;       /* of its frames among the event rules */
    uint8_t request;     /* rows among the receive rules: requests to it, */
    uint8_t request_all; /* to everybody, */
    uint8_t claim;       /* claims of its address, */
    uint8_t connection;  /* and what receivers of long answers say; LOCUM_NONE: none */
} locum_node_rule;

typedef struct {
    uint32_t timer_us; /* while timed */
    uint32_t random;
    uint32_t flying_id; /* while leaving */
    uint32_t answers;   /* bit n: short answer n is wanted */
    uint32_t refused;   /* group, while refusal */
    uint8_t refusal;    /* code of the refusal that is wanted; 0: none */
    uint8_t refused_to;
    uint8_t phase;
    uint8_t flying; /* what leaves */
    bool claim;     /* the claim, or that there is none, is wanted */
    bool timed;
    bool leaving; /* a controller holds a frame of this node */
    bool asked;   /* the row's release is asked for, or it is pending */
#if LOCUM_NODE_TRANSFERS
    uint8_t transfer; /* its step */
    uint8_t answer;
    uint8_t to;
    uint8_t packet; /* number of the next one */
    uint8_t left;   /* packets that were let go and have not left */
    uint8_t reason; /* of its end */
#endif
    uint8_t askers[LOCUM_NODE_ANSWERS]; /* of each short answer */
} locum_node_state;

/* Power-on. */
void locum_j1939_begin(const locum_node_rule *rule, locum_node_state *state);

/* Forgets everything. */
void locum_j1939_reset(locum_node_state *state);

/* Starts if it has not; then it wants to claim. */
void locum_j1939_start(locum_node_state *state);

/* True while the frames that carry the node's address must not be sent. */
bool locum_j1939_holds(const locum_node_state *state);

/* Takes a frame of a row among the receive rules. Returns the row, among the event rules, of a
 * frame that is asked for, or LOCUM_NONE. */
uint8_t locum_j1939_take(const locum_node_rule *rule, locum_node_state *state, uint8_t row,
                         uint32_t id, const uint8_t *data, uint8_t length, uint32_t now_us);

/* The frame that the request in data asked for is not sent in this mode. */
void locum_j1939_refuse(const locum_node_rule *rule, locum_node_state *state, uint8_t row,
                        uint32_t id, const uint8_t *data);

/* True if a frame is wanted now. */
bool locum_j1939_wants(const locum_node_state *state);

/* Writes the frame that goes first; returns its length. Changes nothing. */
uint8_t locum_j1939_compose(const locum_node_rule *rule, const locum_node_state *state,
                            uint32_t *id, uint8_t *data);

/* The controller has accepted what was composed. */
void locum_j1939_accepted(locum_node_state *state, uint32_t id);

/* The frame has left the controller. */
void locum_j1939_left(const locum_node_rule *rule, locum_node_state *state, uint32_t now_us);

/* Lets a timer run out that ends at at_us or before. */
void locum_j1939_tick(locum_node_state *state, uint32_t at_us);

#endif
#endif
