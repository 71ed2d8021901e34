/* The caliper's two leads: the clock on INT0 (PD2), data on PD4. An edge starts a series of looks at both. */
#include "clock_filter.h"

#include "board.h"
#include "chip.h"
#include "edge_queue.h"
#include "facts.h"

#include <avr/interrupt.h>
#include <avr/io.h>

#define CLOCK_PIN 2u
#define DATA_PIN 4u
#define VOTES (CALIPER_HALF_MIN_US / LOOK_US)
#define LOOK_COUNTS TICKS(LOOK_US)

/* What a queued edge carries: the clock's new level and the data level. */
#define RISING 1u
#define DATA_SHIFT 1u

static struct clock_filter filter;
static struct edge_queue queue;
static volatile bool lost;
/* Both count on and wrap. More than SPIKES_MAX between two drains turn the interrupt off, as a full queue does: a lead
   full of noise must not starve the main loop. */
#define SPIKES_MAX 100u
static volatile uint8_t spikes;
static volatile uint8_t spikes_taken;

static bool clock_level(uint8_t pins) { return ((pins & (1u << CLOCK_PIN)) != 0) != CALIPER_INVERTED; }

static bool data_level(uint8_t pins) { return ((pins & (1u << DATA_PIN)) != 0) != CALIPER_INVERTED; }

static void begin_looks(void) {
  tick_t now = TCNT1;
  EIMSK &= (uint8_t)~(1u << INT0);
  clock_filter_begin(&filter, now);
  OCR1B = now + LOOK_COUNTS;
  TIFR1 = 1u << OCF1B;
  TIMSK1 |= 1u << OCIE1B;
}

/* The pin is read once more after the interrupt is on again, so no edge in between is missed. */
static void listen(void) {
  TIMSK1 &= (uint8_t)~(1u << OCIE1B);
  EIFR = 1u << INTF0;
  EIMSK |= 1u << INT0;
  if (clock_level(PIND) != filter.level) begin_looks();
}

static bool queue_edge(void) {
  uint8_t edge = (uint8_t)((filter.level ? RISING : 0u) | (uint8_t)(clock_filter_data(&filter) << DATA_SHIFT));
  work_waits = true;
  return edge_queue_put(&queue, filter.at, edge);
}

static void stop(void) {
  EIMSK &= (uint8_t)~(1u << INT0);
  TIMSK1 &= (uint8_t)~(1u << OCIE1B);
  lost = true;
  work_waits = true;
}

static bool spike_fits(void) { return (uint8_t)(++spikes - spikes_taken) < SPIKES_MAX; }

static void end_looks(enum look_result result) {
  if (result == LOOK_EDGE ? queue_edge() : spike_fits()) {
    listen();
  } else {
    stop();
  }
}

/* Off during the looks: what happens between two of them does not count. */
ISR(INT0_vect) {
  if (clock_level(PIND) != filter.level) {
    begin_looks();
  } else if (!spike_fits()) {
    stop();
  }
}

ISR(TIMER1_COMPB_vect) {
  tick_t now = TCNT1;
  uint8_t pins = PIND;
  enum look_result result = clock_filter_look(&filter, clock_level(pins), data_level(pins), VOTES);
  if (result == LOOK_AGAIN) {
    OCR1B = now + LOOK_COUNTS;
  } else {
    end_looks(result);
  }
}

void caliper_lines_start(void) {
  if (!CALIPER_PRESENT) return;
  PORTD |= (1u << CLOCK_PIN) | (1u << DATA_PIN);
  EICRA = 1u << ISC00; /* any change */
  filter.level = clock_level(PIND);
  listen();
}

static void recover(struct device *device) {
  lost = false;
  device_caliper_lost(device, time_now());
  filter.level = clock_level(PIND);
  listen();
}

void caliper_drain(struct device *device) {
  tick_t at;
  uint8_t edge;
  while (edge_queue_take(&queue, &at, &edge)) {
    device_caliper_edge(device, at, (edge & RISING) != 0, (enum data_level)(edge >> DATA_SHIFT));
  }
  uint8_t now = spikes;
  device_caliper_spikes(device, (uint8_t)(now - spikes_taken));
  spikes_taken = now;
  if (lost) recover(device);
}
