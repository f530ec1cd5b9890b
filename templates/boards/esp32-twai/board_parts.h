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

#ifdef BOARD_SPI_BUS
/* ---- The bus whose controller is on SPI ---- */

void spi_can_start(void);
bool spi_can_send(const locum_frame *frame);
bool spi_can_is_in_trouble(uint32_t now_us);
/* Call before a wait: true if there is something to do first. */
bool spi_can_has_news(bool wants_room, uint32_t now_us);
#if LOCUM_LISTENS
bool spi_can_receive(locum_frame *frame);
#endif
#if LOCUM_WATCHES_LEAVING
bool spi_can_waits(uint32_t id);
#endif
#if LOCUM_GUARDS
void spi_can_withdraw(void);
#endif
#if LOCUM_GUARD_BUS_OFF
bool spi_can_is_off(void);
void spi_can_restart(uint32_t now_us);
void spi_can_watch(uint32_t now_us);
/* The earlier of due_us (if has_due) and the time of the next watch; false when there is neither.
 */
bool spi_can_watch_due(bool has_due, uint32_t *due_us);
#endif
#endif

/* ---- Pins ---- */

void lines_start(void);
locum_input_set lines_read(void);

#if LOCUM_OUTPUTS
void lines_put(locum_output_set levels);
#endif
void lines_light(bool lit);
/* The program wakes when this pin falls; it is pulled up. */
void lines_wake_on_fall(int pin);

#endif
