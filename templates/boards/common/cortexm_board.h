/*
 * What a board with a Cortex-M core provides to cortexm_port.c. Interrupts stay masked for good:
 * pending ones only end a wait.
 */
#ifndef CORTEXM_BOARD_H
#define CORTEXM_BOARD_H

#include "locum_port.h"

/* Blink codes of board_stop, see README.md; those below are reasons for silence. */
enum { STOP_NO_CRYSTAL = 6, STOP_NO_CONTROLLER = 7, STOP_FAULT = 8 };

/* Watchdog, clocks, timer, pins and controllers, in this order; does not return when one does not
 * answer. */
void board_start(void);

/* Takes the board off its buses, slows it down so that codes can be counted, and returns how many
 * empty loops last a fifth of a second then. */
uint32_t board_quiet(void);

/* Quiet, then blinks; resets after a while unless it is a fault. In cortexm_stop.c. */
void board_stop(uint32_t code) __attribute__((noreturn));

/* True once (place & mask) equals value; false after so many looks. */
bool board_wait(volatile uint32_t *place, uint32_t mask, uint32_t value, uint32_t looks);

#if LOCUM_GUARD_KEEP
locum_reset_cause board_reset_cause(void);
#endif

void led_light(bool lit);
void watchdog_feed(void);

uint32_t timer_now(void);
/* A pending interrupt when the time is at_us, at most 60 ms ahead. */
void timer_alarm(uint32_t at_us);

locum_input_set inputs_read(void);

#if LOCUM_OUTPUTS
void outputs_write(locum_output_set levels);
#endif

bool can_send(const locum_frame *frame);
#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id);
#endif
/* Whether a mailbox that becomes empty ends a wait. A received frame and a bus-off always do. */
void can_wake(bool enable);
/* False while a controller does not take part in its bus yet. */
bool can_is_on_bus(void);
/* Error-passive or bus-off. */
bool can_is_in_trouble(void);
#if LOCUM_LISTENS
bool can_receive(locum_frame *frame);
#endif
#if LOCUM_GUARDS
/* Empties the mailboxes, but for one on the wire. */
void can_withdraw(uint8_t bus);
#endif
#if LOCUM_GUARD_BUS_OFF
/* From a bus-off until the controller takes part again after can_restart. */
bool can_is_off(uint8_t bus);
void can_restart(uint8_t bus);
/* Call after each wait. */
void can_watch(void);
/* The earlier of until_us and the next time at which can_watch has to be called. */
uint32_t can_watch_until(uint32_t until_us);
#endif

/* The handlers of cortexm_startup.c. */
void reset_handler(void) __attribute__((noreturn));
void fault_handler(void) __attribute__((noreturn));

#endif
