/* The main loop of every board: take in what the interrupts copied, send a line, sleep. */
#include "board.h"
#include "settings.h"

static struct device device;

static void start(void) {
  board_start();
  serial_start();
  buttons_pins_start();
  feed_lines_start();
  caliper_lines_start();
  struct device_start found = {.faults = restart_faults(),
                               .now = time_now(),
                               .feed_lines = feed_lines(),
                               .pressed = buttons_pressed()};
  device_start(&device, &settings, &found);
  watchdog_start();
  board_run();
}

static void take_in(void) {
  caliper_drain(&device);
  feed_drain(&device);
  serial_drain(&device);
  device_tick(&device, time_now(), time_elapsed_ms(), buttons_pressed());
}

/* Work that comes just before the sleep waits for the next wake-up, a millisecond at most. */
int main(void) {
  start();
  for (;;) {
    watchdog_feed();
    work_taken();
    take_in();
    if (!serial_busy() && device_line(&device, serial_line())) serial_send();
    wait_for_work();
  }
}
