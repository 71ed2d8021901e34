/* The caliper's two leads: the clock on INT0 (PD2), data on PD4, looks by the second comparison of timer 1. */
#include "chip.h"
#include "facts.h"
#include "ticks.h"

#include <avr/interrupt.h>
#include <avr/io.h>

#define CLOCK_HIGH (1u << 2)
#define DATA_HIGH_NOW (1u << 4)

static inline uint8_t caliper_pins(void) { return CALIPER_INVERTED ? (uint8_t)~PIND : PIND; }

static inline tick_t time_now_in_interrupt(void) { return TCNT1; }

static inline void clock_interrupt_off(void) { EIMSK &= (uint8_t)~(1u << INT0); }

static inline void clock_interrupt_on(void) {
  EIFR = 1u << INTF0;
  EIMSK |= 1u << INT0;
}

static inline void look_at(tick_t at) {
  OCR1B = at;
  TIFR1 = 1u << OCF1B;
  TIMSK1 |= 1u << OCIE1B;
}

static inline void no_look(void) { TIMSK1 &= (uint8_t)~(1u << OCIE1B); }

static inline void wake_main(void) { work_waits = true; }

#include "caliper_lines.h"

ISR(INT0_vect) { clock_changed(); }

ISR(TIMER1_COMPB_vect) { take_look(); }

void caliper_lines_start(void) {
  if (!CALIPER_PRESENT) return;
  PORTD |= CLOCK_HIGH | DATA_HIGH_NOW;
  EICRA = 1u << ISC00; /* any change */
  listen_from_now();
}
