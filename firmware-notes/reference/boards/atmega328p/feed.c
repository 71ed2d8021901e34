/* The feed wheel's two lines, on PC0 and PC1: every change is copied with its time. */
#include "feed.h"

#include "chip.h"

#include <avr/interrupt.h>
#include <avr/io.h>

static inline uint8_t feed_pins(void) { return PINC; }

static inline tick_t time_now_in_interrupt(void) { return TCNT1; }

static inline void feed_interrupt_off(void) { PCICR &= (uint8_t)~(1u << PCIE1); }

static inline void feed_interrupt_on(void) {
  PCIFR = 1u << PCIF1;
  PCICR |= 1u << PCIE1;
}

static inline void wake_main(void) { work_waits = true; }

#include "feed_lines.h"

ISR(PCINT1_vect) { feed_changed(); }

void feed_lines_start(void) {
  if (!FEED_PRESENT) return;
  PORTC |= FEED_A | FEED_B;
  PCMSK1 = (1u << PCINT8) | (1u << PCINT9);
  feed_interrupt_on();
}
