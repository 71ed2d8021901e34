/* What a board offers the main loop; only the files in boards/ touch hardware. */
#ifndef BOARD_H
#define BOARD_H

#include "device.h"
#include "line.h"
#include "ticks.h"

#include <stdbool.h>
#include <stdint.h>

/* Clock and pins, before anything else. Interrupts stay off until board_run. */
void board_start(void);
void board_run(void);

/* The watchdog restarts a board whose main loop has hung for 120 ms. */
void watchdog_start(void);
void watchdog_feed(void);

/* Why the chip restarted, as enum fault. */
uint16_t restart_faults(void);

/* Sleeps until an interrupt has left something to do since work_taken; at the longest a millisecond. */
void work_taken(void);
void wait_for_work(void);

tick_t time_now(void);
uint8_t time_elapsed_ms(void); /* whole milliseconds since the last call */

void caliper_lines_start(void);
void caliper_drain(struct device *device);

void feed_lines_start(void);
uint8_t feed_lines(void);
void feed_drain(struct device *device);

void buttons_pins_start(void);
uint8_t buttons_pressed(void);

/* A line handed over belongs to the port until serial_busy() says false. */
void serial_start(void);
bool serial_busy(void);
struct line *serial_line(void);
void serial_send(void);
void serial_drain(struct device *device);

#endif
