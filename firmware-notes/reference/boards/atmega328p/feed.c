/* The feed wheel's two lines: every change of PC0 or PC1 is copied with its time. */
#include "feed.h"

#include "board.h"
#include "chip.h"
#include "edge_queue.h"
#include "facts.h"

#include <avr/interrupt.h>
#include <avr/io.h>

#define LINES ((1u << PCINT8) | (1u << PCINT9))

static struct edge_queue queue;
static volatile bool lost;

/* As with the caliper: full means off, until the main loop has caught up and said so. */
ISR(PCINT1_vect) {
  uint8_t lines = PINC;
  work_waits = true;
  if (edge_queue_put(&queue, TCNT1, lines)) return;
  PCICR &= (uint8_t)~(1u << PCIE1);
  lost = true;
}

static uint8_t active(uint8_t pins) { return (FEED_INVERTED ? (uint8_t)~pins : pins) & (FEED_A | FEED_B); }

uint8_t feed_lines(void) { return active(PINC); }

static void listen(void) {
  PCIFR = 1u << PCIF1;
  PCICR |= 1u << PCIE1;
}

void feed_lines_start(void) {
  if (!FEED_PRESENT) return;
  PORTC |= FEED_A | FEED_B;
  PCMSK1 = LINES;
  listen();
}

void feed_drain(struct device *device) {
  tick_t at;
  uint8_t pins;
  while (edge_queue_take(&queue, &at, &pins)) device_feed_edge(device, at, active(pins));
  if (!lost) return;
  lost = false;
  listen();
  device_feed_lost(device, feed_lines());
}
