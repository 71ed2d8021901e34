/* What this board offers the main loop; behind it lie the only lines that touch hardware. */
#ifndef BOARD_H
#define BOARD_H

#include "line.h"
#include "stamp.h"
#include "unit.h"

#include <stdbool.h>
#include <stdint.h>

/* Set by every interrupt that leaves the main loop something to do. */
extern volatile bool work_waits;

/* Why the chip restarted, as faults to be told. */
uint8_t restart_faults(void);

/* Timer 1: stamps of 4 us and a wake-up every millisecond. */
void time_start(void);
stamp_t time_now(void);
uint8_t time_elapsed_ms(void); /* whole milliseconds since the last call */

/* Caliper on INT0 */
void caliper_start(void);
void caliper_drain(struct unit *unit);

/* Feed wheel on PC0 and PC1 */
void feed_lines_start(void);
uint8_t feed_lines(void);
void feed_drain(struct unit *unit);

/* Buttons on PC2 to PC5 */
void buttons_pins_start(void);
uint8_t buttons_pressed(void);

/* USART 0. A line handed over belongs to the port until serial_busy() says false. */
void serial_start(void);
bool serial_busy(void);
struct line *serial_line(void);
void serial_send(void);
void serial_drain(struct unit *unit);

#endif
