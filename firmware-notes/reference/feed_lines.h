/* The interrupt of the feed's two lines, the same on every board. A board's feed.c defines, before it includes this:
     feed_pins()              both lines now, as FEED_A and FEED_B, before FEED_INVERTED
     feed_interrupt_on/off()  on: forgets what came before
     time_now_in_interrupt(), wake_main() as in caliper_lines.h */
#ifndef FEED_LINES_H
#define FEED_LINES_H

#include "board.h"
#include "edge_queue.h"
#include "facts.h"

static struct edge_queue queue;
static volatile bool lost;

/* A full queue turns the interrupt off until the main loop has caught up and reported it. */
static inline void feed_changed(void) {
  uint8_t pins = feed_pins();
  wake_main();
  if (edge_queue_put(&queue, time_now_in_interrupt(), pins)) return;
  feed_interrupt_off();
  lost = true;
}

static uint8_t active(uint8_t pins) { return (FEED_INVERTED ? (uint8_t)~pins : pins) & (FEED_A | FEED_B); }

uint8_t feed_lines(void) { return active(feed_pins()); }

void feed_drain(struct device *device) {
  tick_t at;
  uint8_t pins;
  while (edge_queue_take(&queue, &at, &pins)) device_feed_edge(device, at, active(pins));
  if (!lost) return;
  lost = false;
  feed_interrupt_on();
  device_feed_lost(device, feed_lines());
}

#endif
