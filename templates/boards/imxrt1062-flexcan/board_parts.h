/* The parts of this port that only know each other. */
#ifndef BOARD_PARTS_H
#define BOARD_PARTS_H

#include "board_config.h"
#include "cortexm_board.h"
#include "flexcan_registers.h"

/* More than 10 ms at 396 MHz; a controller's answer takes a few bit times. */
#define HANDSHAKE_LOOKS 1000000u

/* Mailboxes: one is kept inactive (erratum ERR005829), three send, the others receive. A controller
 * with 64 bytes in each has 14. */
#define FIRST_SEND_BOX 1u
#define SEND_BOXES 3u
#define FIRST_RECEIVE_BOX (FIRST_SEND_BOX + SEND_BOXES)
#define RECEIVE_BOXES 10u
#define BOXES (FIRST_RECEIVE_BOX + RECEIVE_BOXES)

/* For what runs before the program is in RAM. */
#define IN_FLASH __attribute__((section(".loader"), noinline))

typedef struct {
    uint8_t controller; /* from 0 on */
    bool fd;
    uint32_t ctrl1; /* bit timing of a classic bus */
    uint32_t cbt;   /* of one with CAN FD, then that behind the switch, delay compensation */
    uint32_t fdcbt;
    uint32_t fdctrl;
} bus_settings;

extern const bus_settings buses[BOARD_BUS_COUNT];

/* Crystal, PLL, 396 MHz; 24 MHz for the controllers. False: the PLL did not lock. */
bool clock_start(void);
void timer_start(void);
void pins_start(void);
#define PORT_A 0u
#define PORT_B 1u
void pin_connect(uint32_t port, uint32_t bit, uint32_t function, uint32_t pad);
void pin_put(uint32_t port, uint32_t bit, bool high);
#if LOCUM_OUTPUTS
/* Pins get their level before they drive. */
void outputs_start(void);
#endif
/* False: one does not answer. */
bool can_start(void);

/* Address of a mailbox's control word. */
volatile uint32_t *can_box(uint8_t bus, uint32_t box);
/* CTRL1 without bit timing: stays off after a bus-off or comes back by itself. */
uint32_t can_errors(void);

#if LOCUM_LISTENS
/* While the controller is frozen. */
void can_receive_start(uint8_t bus);
#define CAN_RECEIVE_EVENTS (((1u << RECEIVE_BOXES) - 1u) << FIRST_RECEIVE_BOX)
#else
#define CAN_RECEIVE_EVENTS 0u
#endif

#endif
