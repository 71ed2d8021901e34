/* The caliper's two leads: the clock on GP2, data on GP3, looks by the second alarm of the timer. */
#include "chip.h"
#include "facts.h"
#include "ticks.h"

#define CLOCK_HIGH (1u << PIN_CLOCK)
#define DATA_HIGH_NOW (1u << PIN_DATA)
#define ALARM_1 (1u << 1)

static inline uint8_t caliper_pins(void) {
  uint32_t pins = REG(GPIO_IN);
  return (uint8_t)(CALIPER_INVERTED ? ~pins : pins);
}

static inline void clock_interrupt_off(void) { CLEAR_BITS(GPIO_INTE0) = GPIO_EDGES(PIN_CLOCK); }

static inline void clock_interrupt_on(void) {
  REG(GPIO_INTR0) = GPIO_EDGES(PIN_CLOCK);
  SET_BITS(GPIO_INTE0) = GPIO_EDGES(PIN_CLOCK);
}

/* The alarm compares 32 bits of microseconds, of which a tick knows the 16 above the lowest two. */
static inline void look_at(tick_t at) {
  uint32_t now = REG(TIMER_NOW);
  uint32_t in_us = TICK_US * (uint32_t)ticks_since(at, (tick_t)(now / TICK_US));
  SET_BITS(TIMER_INTE) = ALARM_1;
  REG(TIMER_ALARM1) = now + (in_us > 0 && in_us < 1000u ? in_us : 1u);
}

static inline void no_look(void) { REG(TIMER_ARMED) = ALARM_1; }

#include "caliper_lines.h"

void caliper_clock_interrupt(void) { clock_changed(); }

void timer_1_interrupt(void) {
  REG(TIMER_INTR) = ALARM_1;
  take_look();
}

void caliper_lines_start(void) {
  if (!CALIPER_PRESENT) return;
  make_input(PIN_CLOCK);
  make_input(PIN_DATA);
  listen_from_now();
}
