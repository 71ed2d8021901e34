/* The feed wheel's two lines, on GP4 and GP5: every change is copied with its time. */
#include "feed.h"

#include "chip.h"

#define EDGES (GPIO_EDGES(PIN_FEED_A) | GPIO_EDGES(PIN_FEED_B))

static inline uint8_t feed_pins(void) { return (uint8_t)(REG(GPIO_IN) >> PIN_FEED_A); }

static inline void feed_interrupt_off(void) { CLEAR_BITS(GPIO_INTE0) = EDGES; }

static inline void feed_interrupt_on(void) {
  REG(GPIO_INTR0) = EDGES;
  SET_BITS(GPIO_INTE0) = EDGES;
}

#include "feed_lines.h"

void feed_interrupt(void) { feed_changed(); }

/* Both leads' edges come through one interrupt. Cleared before the pins are read, so that no edge is missed. */
void gpio_interrupt(void) {
  uint32_t edges = REG(GPIO_INTS0);
  REG(GPIO_INTR0) = edges;
  if (edges & GPIO_EDGES(PIN_CLOCK)) caliper_clock_interrupt();
  if (edges & EDGES) feed_interrupt();
}

void feed_lines_start(void) {
  if (!FEED_PRESENT) return;
  make_input(PIN_FEED_A);
  make_input(PIN_FEED_B);
  feed_interrupt_on();
}
