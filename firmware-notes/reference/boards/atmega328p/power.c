/* Start, sleep, watchdog, and why the chip restarted. */
#include "board.h"
#include "chip.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <avr/sleep.h>
#include <avr/wdt.h>

volatile bool work_waits;

/* Kept out of the zeroed memory: it is written before that is cleared. */
static uint8_t cause __attribute__((section(".noinit")));

/* After a watchdog restart the watchdog keeps running with its shortest time, so this cannot wait for main. */
void restart_note(void) __attribute__((naked, used, section(".init3")));
void restart_note(void) {
  cause = MCUSR;
  MCUSR = 0;
  wdt_disable();
}

/* A rising supply sets the brown-out flag too, so power-on is not reported as a brown-out. */
uint16_t restart_faults(void) {
  uint16_t faults = 0;
  if (cause & (1u << WDRF)) faults |= FAULT_WATCHDOG;
  if ((cause & (1u << BORF)) && !(cause & (1u << PORF))) faults |= FAULT_BROWNOUT;
  return faults;
}

void board_start(void) {
  SMCR = 0; /* sleep means idle: timers and edges go on */
  clock_start();
}

void board_run(void) { sei(); }

void watchdog_start(void) { wdt_enable(WDTO_120MS); }

void watchdog_feed(void) { wdt_reset(); }

void work_taken(void) { work_waits = false; }

void wait_for_work(void) {
  while (!work_waits) sleep_mode();
}
