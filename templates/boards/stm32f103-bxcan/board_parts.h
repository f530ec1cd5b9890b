/* The parts of this port. Interrupts stay masked for good: they only end a wait. */
#ifndef BOARD_PARTS_H
#define BOARD_PARTS_H

#include "board_config.h"
#include "locum_port.h"
#include "stm32f103_registers.h"

/* Blink codes of board_stop, see README.md; those below are reasons for silence. */
enum { STOP_NO_CRYSTAL = 6, STOP_NO_CONTROLLER = 7, STOP_FAULT = 8 };

/* True once (place & mask) equals value; false after so many looks. */
bool board_wait(volatile uint32_t *place, uint32_t mask, uint32_t value, uint32_t looks);

/* Takes the board off the bus and blinks; resets after a while unless it is a fault. */
void board_stop(uint32_t code) __attribute__((noreturn));

/* A pin's four configuration bits. */
void pin_configure(uint32_t port, uint32_t bit, uint32_t configuration);

void led_start(void);
void led_light(bool lit);

void watchdog_start(void);
void watchdog_feed(void);

/* Crystal, PLL, 72 MHz. False: the crystal or the PLL did not start, the clock is as after reset.
 */
bool clock_start(void);

void timer_start(void);
uint32_t timer_now(void);
/* A pending timer interrupt when the time is at_us, which lies less than 65536 us ahead. */
void timer_alarm(uint32_t at_us);

void inputs_start(void);
locum_input_set inputs_read(void);

#if LOCUM_OUTPUTS
/* Pins get their level before they drive. */
void outputs_start(void);
void outputs_write(locum_output_set levels);
#endif

/* More than 1 ms; the controller's answer to a change of mode takes a few bit times. */
#define CAN_HANDSHAKE_LOOKS 10000u

/* False: the controller did not answer. */
bool can_start(void);
bool can_send(const locum_frame *frame);
#if LOCUM_WATCHES_LEAVING
/* True while a frame with this identifier waits in a mailbox or is on the wire. */
bool can_waits(uint32_t id);
#endif
/* Whether a mailbox that becomes empty ends a wait. A received frame and a bus-off always do. */
void can_wake(bool enable);
/* False until the controller has found 11 recessive bits after its start. */
bool can_is_on_bus(void);
/* Error-passive or bus-off. */
bool can_is_in_trouble(void);

#if LOCUM_GUARDS
/* Empties the mailboxes, but for one on the wire. */
void can_withdraw(void);
#endif

#if LOCUM_GUARD_BUS_OFF
/* From a bus-off until the controller takes part again after can_restart. */
bool can_is_off(void);
void can_restart(void);
/* Call after each wait. */
void can_watch(void);
#endif

#if LOCUM_LISTENS
/* How often frames came faster than they were taken; for a debugger. */
extern volatile uint32_t can_overruns;

/* Filters; in the controller's initialisation. */
void can_receive_start(void);
bool can_receive(locum_frame *frame);
#endif

#endif
