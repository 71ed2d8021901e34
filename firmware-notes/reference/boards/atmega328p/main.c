/* Starts the board and runs the main loop: take in what the interrupts copied, then speak, then sleep. */
#include "board.h"
#include "settings.h"

#include <avr/interrupt.h>
#include <avr/sleep.h>
#include <avr/wdt.h>

volatile bool work_waits;

static struct unit unit;

static void start(void) {
  time_start();
  serial_start();
  buttons_pins_start();
  feed_lines_start();
  caliper_start();
  unit_start(&unit, &settings, restart_faults(), time_now(), feed_lines());
  set_sleep_mode(SLEEP_MODE_IDLE);
  wdt_enable(WDTO_120MS);
  sei();
}

/* Edges are drained before the time is read, so that no edge is later than `now`. */
static void take_in(void) {
  caliper_drain(&unit);
  feed_drain(&unit);
  serial_drain(&unit);
  unit_tick(&unit, time_now(), time_elapsed_ms(), buttons_pressed());
}

/* Work that comes just before the sleep is seen a millisecond late at most, at the timer's next wake-up. */
int main(void) {
  start();
  for (;;) {
    wdt_reset();
    work_waits = false;
    take_in();
    if (!serial_busy() && unit_line(&unit, serial_line())) serial_send();
    while (!work_waits) sleep_mode();
  }
}
