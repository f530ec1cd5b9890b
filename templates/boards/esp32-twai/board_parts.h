/*
 * The parts of this port. One task runs the program; it waits in locum_port_wait and nowhere else.
 * Others wait for the driver's alerts and wake it.
 */
#ifndef BOARD_PARTS_H
#define BOARD_PARTS_H

#include "board_config.h"
#include "locum_port.h"

#include "esp_err.h"
#include "freertos/FreeRTOS.h"
#include "freertos/task.h"

/* The task that runs the program. */
extern TaskHandle_t board_task;

/* Restarts the chip if a call to the system did not do what it has to. */
void board_must(esp_err_t result);

/* Runs the program; does not return. For an Arduino sketch. */
void locum_board_run(void);

/* ---- Controllers ---- */

void can_start(void);
bool can_send(const locum_frame *frame);
#if LOCUM_WATCHES_LEAVING
bool can_waits(uint8_t bus, uint32_t id);
#endif
/* Acts on the driver's alerts and hands over the next frames. */
void can_serve(void);
/* Error-passive or bus-off. */
bool can_is_in_trouble(void);
#if LOCUM_LISTENS
bool can_receive(locum_frame *frame);
#endif
#if LOCUM_GUARDS
void can_withdraw(uint8_t bus);
#endif
#if LOCUM_GUARD_BUS_OFF
bool can_is_off(uint8_t bus);
void can_restart(uint8_t bus);
#endif

/* ---- Pins ---- */

void lines_start(void);
locum_input_set lines_read(void);

#if LOCUM_OUTPUTS
void lines_put(locum_output_set levels);
#endif
void lines_light(bool lit);

#endif
