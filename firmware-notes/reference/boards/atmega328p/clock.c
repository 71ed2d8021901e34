/* Timer 1 runs free at 4 us a count; its first comparison wakes the main loop every millisecond. */
#include "board.h"
#include "chip.h"

#include <avr/interrupt.h>
#include <avr/io.h>
#include <util/atomic.h>

#if F_CPU != 16000000UL
#error "clock.c: 64 clocks make 4 us only at 16 MHz"
#endif

#define COUNTS_PER_MS 250u

static volatile uint8_t milliseconds; /* wraps every 256 ms, which the watchdog keeps the main loop well below */

ISR(TIMER1_COMPA_vect) {
  OCR1A += COUNTS_PER_MS;
  milliseconds++;
  work_waits = true;
}

void clock_start(void) {
  TCCR1A = 0;
  TCNT1 = 0;
  OCR1A = COUNTS_PER_MS;
  TIMSK1 = 1u << OCIE1A;
  TCCR1B = (1u << CS11) | (1u << CS10);
}

/* Both halves of a timer go through one shared register, so no interrupt may come between. */
tick_t time_now(void) {
  tick_t now;
  ATOMIC_BLOCK(ATOMIC_RESTORESTATE) { now = TCNT1; }
  return now;
}

uint8_t time_elapsed_ms(void) {
  static uint8_t seen;
  uint8_t now = milliseconds;
  uint8_t elapsed = (uint8_t)(now - seen);
  seen = now;
  return elapsed;
}
