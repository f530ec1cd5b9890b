/* The parts of this port. One thread; it waits in locum_port_wait and nowhere else. */
#ifndef BOARD_PARTS_H
#define BOARD_PARTS_H

#include "board_config.h"
#include "locum_port.h"

#include <poll.h>

/* Says why on standard error and ends the program, which the service then starts anew. */
void board_fail(const char *what) __attribute__((noreturn));

/* ---- CAN interfaces ---- */

/* Opens a socket per bus; does not return if an interface is missing. */
void can_start(void);
bool can_send(const locum_frame *frame);
#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id);
#endif
/* Fills one entry per bus. */
void can_poll(struct pollfd *polls);
/* Reads all that the sockets have, and hands over the next frames. */
void can_serve(void);
/* A frame could not be handed over, or a socket has fallen silent with its interface: ask again
 * soon. */
bool can_is_stuck(void);

#if LOCUM_LISTENS
bool can_receive(locum_frame *frame);
#endif
#if LOCUM_GUARDS
void can_withdraw(uint8_t bus);
#endif
#if LOCUM_GUARD_BUS_OFF
bool can_is_off(uint8_t bus);
void can_restart(uint8_t bus);
/* Asks the kernel over netlink to restart the controller of an interface. */
void can_restart_interface(unsigned index);
#endif

/* ---- GPIO lines ---- */

void lines_start(void);
/* An entry that becomes ready with an edge of an input; its descriptor is -1 without inputs. */
void lines_poll(struct pollfd *poll);
locum_input_set lines_read(void);

#if LOCUM_OUTPUTS
void lines_put(locum_output_set levels);
#endif
void lines_light(bool lit);

/* ---- What a restart of the program does not erase ---- */

#if LOCUM_GUARD_KEEP
/* True if a file of an earlier run was there. */
bool kept_load(void);
void kept_save(void);
#endif

/* ---- The service manager ---- */

void notify_start(void);
/* Tells it that the program lives, at most every half second. */
void notify_alive(uint32_t now_us);
void notify_silence(uint8_t code);

#endif
