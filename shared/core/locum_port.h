/*
 * What a board provides. Each port folder implements these few functions and nothing else is
 * asked of the hardware.
 */
#ifndef LOCUM_PORT_H
#define LOCUM_PORT_H

#include "locum_core.h"

/* Clocks, pins, controllers on the wire, watchdog. Called once, before anything else. */
void locum_port_init(void);

/* Microseconds since power-on, low 32 bits, monotonic. */
uint32_t locum_port_now_us(void);

/* Electrical levels, bit n for input n of the board. */
locum_input_set locum_port_inputs(void);

/*
 * Hands a frame to the controller of its bus. False: no room, nothing was taken; also while a
 * frame with the same identifier still waits in a mailbox. Frames accepted in one step leave in
 * the order of arbitration.
 */
bool locum_port_send(const locum_frame *frame);

/*
 * Takes the next frame that a controller received, oldest first; false when there is none. Only
 * called by boards that listen (LOCUM_LISTENS); a reception ends locum_port_wait.
 */
bool locum_port_receive(locum_frame *frame);

/*
 * True while a frame with this identifier waits in a mailbox or is on the wire. Only called by
 * boards with channels or nodes (LOCUM_WATCHES_LEAVING).
 */
bool locum_port_waits(uint8_t bus, uint32_t id);

/*
 * Sleeps until due_us (ignored unless has_due), an input edge, or, with wants_room, a controller
 * that finished sending. May return early. Feeds the watchdog.
 */
void locum_port_wait(bool has_due, uint32_t due_us, bool wants_room);

#if LOCUM_OUTPUTS
/* Puts out levels, bit n on the pin of output n, in as short a time as the board can; called when
 * they change. From power-on on every pin has the level of an output that is off; locum_port_init
 * sees to that first of all. */
void locum_port_outputs(locum_output_set levels);
#endif

#if LOCUM_GUARDS
/* Takes frames that wait in the controller's mailboxes back; one on the wire goes on. */
void locum_port_withdraw(uint8_t bus);

/* Shows why the board is silent, LOCUM_OUTPUTS_OFF or LOCUM_TALKS; called when that changes. On an
 * LED: so many flashes, then a pause. */
void locum_port_led(uint8_t code);
#endif

#if LOCUM_GUARD_BUS_OFF
/*
 * True from the controller's bus-off on, until it takes part in the bus again after
 * locum_port_restart; never by itself, so controllers that come back without being asked have to be
 * kept off. Between two bus-offs it is false at least once. A bus-off ends locum_port_wait.
 */
bool locum_port_bus_off(uint8_t bus);

/* Lets a controller that went bus-off take part again. */
void locum_port_restart(uint8_t bus);
#endif

#if LOCUM_GUARD_KEEP
/* Why the program began. LOCUM_RESET_BROWNOUT when in doubt: what was kept is then believed if its
 * checksum is right, and the modes start anew. */
locum_reset_cause locum_port_reset_cause(void);
#endif

#endif
