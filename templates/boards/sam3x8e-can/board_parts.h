/* The parts of this port that only know each other. */
#ifndef BOARD_PARTS_H
#define BOARD_PARTS_H

#include "board_config.h"
#include "cortexm_board.h"
#include "sam3x_registers.h"

/* More than 10 ms; a controller's answer takes a few bit times. */
#define HANDSHAKE_LOOKS 100000u

/* Mailboxes of a controller: so many send, then so many receive. */
#define SEND_BOXES 3u
#define RECEIVE_BOXES 5u
#define BOXES (SEND_BOXES + RECEIVE_BOXES)

/* Crystal, PLL, 84 MHz. False: the crystal or the PLL did not start. */
bool clock_start(void);
void timer_start(void);
void inputs_start(void);
#if LOCUM_OUTPUTS
/* Pins get their level before they drive. */
void outputs_start(void);
#endif
void can_start(void);

/* Settings and mailboxes of a controller that is switched off; then it takes part. */
void can_configure(uint8_t bus);
void can_join(uint8_t bus);
void can_leave(uint8_t bus);

#if LOCUM_LISTENS
void can_receive_start(uint8_t bus);
/* Mailboxes that hold a frame end a wait. */
#define CAN_RECEIVE_EVENTS (((1u << RECEIVE_BOXES) - 1u) << SEND_BOXES)
#else
#define CAN_RECEIVE_EVENTS 0u
#endif

#endif
