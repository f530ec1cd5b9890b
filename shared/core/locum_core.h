/*
 * Scheduler of a stand-in transmitter board: inputs, modes, releases, offers (see RULES.md).
 *
 * The tables are const and come from the generator; the state lives in arrays that the generated
 * code sizes. No heap, no recursion, no floating point; time is uint32_t microseconds and may wrap.
 */
#ifndef LOCUM_CORE_H
#define LOCUM_CORE_H

#include <stdbool.h>
#include <stdint.h>

#include "locum_config.h"
#include "locum_frame.h"
#include "locum_isotp.h"
#include "locum_j1939.h"
#include "locum_rom.h"

/* Generated code refuses to compile against another number. */
#define LOCUM_CORE_VERSION 1

/* In place of the identifier of a node's row, whose frames bring their own. No frame has it. */
#define LOCUM_ID_NODE 0x1FFFFFFFu

/* "No entry" in every 8-bit index. */
#define LOCUM_NONE 0xFFu

typedef uint16_t locum_input_set;  /* bit n: input n; level high, or active once settled */
typedef uint16_t locum_output_set; /* bit n: output n; on, or the level of its pin */
typedef uint32_t locum_mode_set;   /* bit n: mode n of the module */

/* One row per frame the board sends, sorted by bus, then by arbitration order. */
typedef struct {
    uint32_t id;
    uint32_t period_us; /* 1..2^30; 0: sent by events only */
    uint32_t offset_us; /* 0..2^30 */
    locum_mode_set modes;
#if LOCUM_PERIODS
    const uint32_t *periods_us; /* one per mode, LOCUM_ROM; null: period_us in every mode */
#endif
#if LOCUM_BURSTS
    uint32_t burst_us;   /* distance between the first releases */
    uint8_t burst_count; /* how many come that fast; 0: none */
#endif
    uint8_t module;
    uint8_t bus;
    uint8_t length;
    void (*compose)(uint8_t *data);     /* writes length bytes; null: a channel or a node does */
    void (*sent)(void);                 /* the controller accepted the frame; may be null */
    void (*skipped)(uint32_t releases); /* so many releases were skipped; may be null */
    void (*started)(void);              /* the frame starts sending; may be null */
#if LOCUM_LIVE
    void (*released)(void); /* the frame is released; may be null */
#endif
} locum_send_rule;

typedef struct {
    uint32_t due_us; /* next release by period, while active */
#if LOCUM_PERIODS
    uint32_t distance_us; /* from the last release to due_us; 0: none yet */
#endif
#if LOCUM_BURSTS
    uint8_t burst_left; /* releases of the burst still to come */
#endif
    uint16_t skipped; /* releases not sent, stops at 65535 */
    uint8_t next;     /* next row in the due queue */
    uint8_t flags;
} locum_send_state;

/* How long a mode lasts by itself: laps (of boards with long stays) * 2^30 + for_us. then =
 * LOCUM_NONE: no limit. */
typedef struct {
    uint32_t for_us; /* 0..2^30 - 1 */
#if LOCUM_LAPS
    uint16_t laps;
#endif
    uint8_t then;
} locum_stay;

typedef struct {
    const locum_stay *stays; /* one per mode */
    uint8_t mode_count;
    /* The mode to change to because of an input; the same mode when there is no reason. */
    uint8_t (*leave)(uint8_t mode, locum_input_set active);
} locum_module;

typedef struct {
    uint32_t ends_us; /* end of the stay, or of its current lap */
#if LOCUM_LAPS
    uint16_t laps; /* laps still to go */
#endif
    uint8_t mode;
    bool timed;
} locum_module_state;

typedef struct {
    uint32_t settles_us;
    bool settling;
} locum_input_state;

#if LOCUM_OUTPUTS
/* A pin that switches something. */
typedef struct {
    uint32_t after_us; /* from being wanted to being on; 0..2^30 */
    uint32_t for_us;   /* on at most so long, 1..2^30; 0: as long as it is wanted */
    uint8_t module;
    bool (*wanted)(uint8_t mode, locum_input_set active);
} locum_output_rule;

typedef struct {
    uint32_t turn_us; /* while it waits, or is on for a time */
    uint8_t phase;
} locum_output_state;
#endif

#if LOCUM_EVENTS
/* One row per frame that events send, sorted by its row among the send rules. */
typedef struct {
    uint32_t spacing_us; /* between repeated releases */
    uint32_t gap_us;     /* least distance from the last release */
    uint16_t repeat;     /* releases per event */
    uint8_t row;
    bool (*changed)(void); /* a watched field differs from the last call; may be null */
} locum_event_rule;

typedef struct {
    uint32_t due_us;  /* next release, while left is not 0 */
    uint32_t last_us; /* last release, while recent */
    uint16_t left;
    bool recent;
} locum_event_state;

enum {
    LOCUM_ON_START,    /* of the frame with the row index */
    LOCUM_ON_MODE,     /* the module enters mode index */
    LOCUM_ON_ACTIVE,   /* input index settles active */
    LOCUM_ON_INACTIVE, /* input index settles inactive */
    LOCUM_ON_RECEIVED, /* receive row index */
    LOCUM_ON_FRAME     /* the send rule in row index is released */
};

typedef struct {
    uint32_t after_us; /* from the event to the release */
    uint8_t kind;
    uint8_t module;
    uint8_t index;
    uint8_t event; /* row among the event rules */
} locum_trigger;
#endif

#if LOCUM_RECEIVES
/* One row per frame of another node that the board listens to. */
typedef struct {
    uint32_t id;
    uint32_t mask;       /* identifier bits that must match, with LOCUM_ID_EXTENDED */
    uint32_t timeout_us; /* 1..2^30; 0: never lost */
    uint8_t bus;
    uint8_t length; /* data bytes a frame must have at least */
} locum_receive_rule;

typedef struct {
    uint32_t lost_us; /* while there, if the row has a timeout */
    bool there;
    uint8_t data[LOCUM_MAX_LENGTH];
} locum_receive_state;
#endif

/* Frames are received for the modules, or to notice foreign senders. */
#define LOCUM_LISTENS (LOCUM_RECEIVES || LOCUM_GUARD_FOREIGN)

/* It matters when a frame leaves its controller. */
#define LOCUM_WATCHES_LEAVING (LOCUM_CHANNELS || LOCUM_NODES)

#if LOCUM_GUARDS
/* Why a board is silent; also the number that its LED shows. */
enum {
    LOCUM_TALKS = 0,
    LOCUM_OUTPUTS_OFF = 1,     /* not silent, but switches nothing after brown-outs; for good */
    LOCUM_SILENT_FOREIGN = 2,  /* another node sends one of the board's identifiers; for good */
    LOCUM_SILENT_BUS_OFF = 3,  /* too many bus-offs; for good */
    LOCUM_SILENT_DISABLED = 4, /* the enable input is not active */
    LOCUM_SILENT_RUN = 5       /* the time that the board may run is over; for good */
};

typedef enum { LOCUM_RESET_POWER, LOCUM_RESET_WATCHDOG, LOCUM_RESET_BROWNOUT } locum_reset_cause;

typedef struct {
    uint32_t within_us; /* bus-offs are counted for so long, from the first on; 1..2^30 */
    uint32_t wait_us;   /* from a bus-off to the restart; 1..2^30 */
    uint32_t run_us;    /* the board may run for run_laps * 2^30 + run_us */
    uint16_t run_laps;
    uint8_t recoveries; /* most restarts of a bus within within_us */
    uint8_t enable_input;
    uint8_t bus_count;
#if LOCUM_GUARD_BROWN_OUTS
    uint8_t brown_outs; /* most of them in a row after which outputs switch */
    uint32_t steady_us; /* they are forgotten after so long; 1..2^30 */
#endif
} locum_guard_rule;

#if LOCUM_GUARD_BUS_OFF
enum {
    LOCUM_BUS_ON,
    LOCUM_BUS_WAITS, /* off, until restart_us */
    LOCUM_BUS_COMES  /* restarted; the controller is not back yet */
};

typedef struct {
    uint32_t restart_us;
    uint32_t forgets_us; /* end of the counting, while counts */
    uint8_t recoveries;
    uint8_t state;
    bool counts;
} locum_bus_guard;
#endif

#if LOCUM_GUARD_KEEP
/* What a reset does not erase. */
typedef struct {
    uint32_t mark; /* of this very firmware */
    uint8_t silent;
#if LOCUM_GUARD_BROWN_OUTS
    uint8_t brown_outs;
#endif
    uint8_t modes[LOCUM_GUARD_KEEP]; /* one per module */
    uint16_t check;
} locum_kept;

extern locum_kept locum_kept_over_reset;
#endif

typedef struct {
#if LOCUM_GUARD_BUS_OFF
    locum_bus_guard buses[LOCUM_GUARD_BUS_OFF];
#endif
#if LOCUM_GUARD_RUN
    uint32_t run_ends_us; /* end of the time to run, or of its current lap */
    uint16_t run_laps;
#endif
#if LOCUM_GUARD_FOREIGN
    uint16_t foreign; /* frames of foreign senders, stops at 65535 */
#endif
#if LOCUM_GUARD_KEEP
    bool resumes; /* modes start as kept */
    bool kept;    /* what is kept was written since the reset */
#endif
#if LOCUM_GUARD_BROWN_OUTS
    uint32_t steady_us; /* end of the steady time, while there are brown-outs to forget */
    uint8_t brown_outs; /* in a row */
    uint8_t shown;      /* by the LED */
#endif
    uint8_t silent;
    uint8_t for_good; /* the first reason that ends only with the power */
} locum_guard_state;
#endif

/* Everything the generator knows about a board. The arrays behind rules, modules and debounce_us,
 * and the guards, are LOCUM_ROM. */
typedef struct {
    const locum_send_rule *rules;
    locum_send_state *rule_states;
    const locum_module *modules;
    locum_module_state *module_states;
    const uint32_t *debounce_us; /* one per input, 0..2^30 */
    locum_input_state *input_states;
#if LOCUM_OUTPUTS
    const locum_output_rule *output_rules; /* LOCUM_OUTPUTS rows, LOCUM_ROM */
    locum_output_state *output_states;
    locum_output_set outputs_low; /* outputs whose pin is low while they are on */
#endif
#if LOCUM_EVENTS
    const locum_event_rule *event_rules; /* LOCUM_EVENTS rows */
    locum_event_state *event_states;
    const locum_trigger *triggers; /* LOCUM_TRIGGERS rows */
#endif
#if LOCUM_RECEIVES
    const locum_receive_rule *receive_rules; /* LOCUM_RECEIVES rows */
    locum_receive_state *receive_states;
#endif
#if LOCUM_GUARDS
    const locum_guard_rule *guards;
#endif
#if LOCUM_CHANNELS
    const locum_channel_rule *channel_rules; /* LOCUM_CHANNELS rows */
    locum_channel_state *channel_states;
#endif
#if LOCUM_NODES
    const locum_node_rule *node_rules; /* LOCUM_NODES rows, LOCUM_ROM */
    locum_node_state *node_states;
#endif
    locum_input_set active_low; /* inputs whose active level is low */
    uint8_t rule_count;         /* 0..254 */
    uint8_t module_count;
    uint8_t input_count; /* 0..16 */
} locum_board;

typedef struct {
    const locum_board *board;
    uint32_t change_us;     /* earliest end of a debounce or stay, while change_armed */
    locum_input_set level;  /* last level seen, 1 = active */
    locum_input_set active; /* settled */
    uint8_t due_head;       /* due queue: soonest first, then table order */
    uint8_t started;        /* chain of rows that started in this step */
    uint8_t pending;        /* frames that wait for a controller */
    bool change_armed;
    bool settled_once;
#if LOCUM_OUTPUTS
    locum_output_set outputs_on;
#endif
#if LOCUM_GUARDS
    locum_guard_state guards;
#endif
} locum_core;

/* Power-on at now_us: every module enters its first mode. The first step follows at the same time.
 */
void locum_start(locum_core *core, const locum_board *board, uint32_t now_us);

/* Does all that is due at now_us. levels: bit n is the electrical level of input n. */
void locum_step(locum_core *core, uint32_t now_us, locum_input_set levels);

/* The next time at which a step is needed. False: only an input or a controller can cause one. */
bool locum_next_due(const locum_core *core, uint32_t *due_us);

/* True while frames wait for room in a controller, or a channel or a node for a frame to leave
 * one. */
bool locum_waits_for_room(const locum_core *core);

uint8_t locum_mode(const locum_core *core, uint8_t module);

#if LOCUM_GUARDS
/* Why the board is silent, or LOCUM_TALKS. */
uint8_t locum_silence(const locum_core *core);

#if LOCUM_GUARD_BROWN_OUTS
/* True when the board switches nothing any more because of brown-outs. */
bool locum_outputs_are_off(const locum_core *core);
#endif
#endif

/* The value n steps on in the cycle that runs from `from` towards `to` (which may be lower) in
 * steps of step, does not pass `to`, and then starts at `from` again. */
uint32_t locum_count_on(uint32_t value, uint32_t from, uint32_t to, uint32_t step, uint32_t n);

#endif
