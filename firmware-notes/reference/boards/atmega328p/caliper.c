/* The caliper's two leads: the clock interrupts on INT0 (PD2), data is read with it. */
#include "board.h"
#include "edges.h"
#include "facts.h"

#include <avr/interrupt.h>
#include <avr/io.h>

#define CLOCK_PIN 2u
#define PIN_EDGE_RISING (CALIPER_SAMPLE_RISING != CALIPER_INVERTED)

static struct edges ring;
static volatile bool lost;

/* When the ring is full the interrupt turns itself off: a clock lead gone wild must not starve the rest. */
ISR(INT0_vect) {
  uint8_t lines = PIND;
  work_waits = true;
  if (edges_put(&ring, TCNT1, lines)) return;
  EIMSK &= (uint8_t)~(1u << INT0);
  lost = true;
}

static void listen(void) {
  EIFR = 1u << INTF0;
  EIMSK |= 1u << INT0;
}

void caliper_start(void) {
  if (!CALIPER_PRESENT) return;
  PORTD |= (1u << CLOCK_PIN) | (1u << CALIPER_DATA_PIN);
  EICRA = PIN_EDGE_RISING ? (1u << ISC01) | (1u << ISC00) : 1u << ISC01;
  listen();
}

void caliper_drain(struct unit *unit) {
  stamp_t at;
  uint8_t lines;
  while (edges_take(&ring, &at, &lines)) {
    bool high = (lines & (1u << CALIPER_DATA_PIN)) != 0;
    unit_caliper_edge(unit, at, high != CALIPER_INVERTED);
  }
  if (!lost) return;
  lost = false;
  unit_caliper_lost(unit, time_now());
  listen();
}
