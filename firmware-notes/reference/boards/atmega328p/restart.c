/* Reads why the chip restarted and stops the watchdog before anything else runs. */
#include "board.h"

#include <avr/io.h>
#include <avr/wdt.h>

/* Kept out of the zeroed memory: it is written before that is cleared. */
static uint8_t cause __attribute__((section(".noinit")));

/* After a watchdog restart the watchdog keeps running with its shortest time, so this cannot wait for main. */
void restart_note(void) __attribute__((naked, used, section(".init3")));
void restart_note(void) {
  cause = MCUSR;
  MCUSR = 0;
  wdt_disable();
}

/* A rising supply sets the brown-out flag too, so power-on is not told as a brown-out. */
uint8_t restart_faults(void) {
  uint8_t faults = 0;
  if (cause & (1u << WDRF)) faults |= FAULT_WATCHDOG;
  if ((cause & (1u << BORF)) && !(cause & (1u << PORF))) faults |= FAULT_BROWNOUT;
  return faults;
}
