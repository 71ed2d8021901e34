/* The interrupts of the caliper's two leads, the same on every board. A board's caliper.c defines, before it includes this:
     caliper_pins()            both leads now, as the caliper has them: CLOCK_HIGH and DATA_HIGH_NOW
     clock_interrupt_on/off()  on: forgets what came before
     look_at(tick)             plans one look;  no_look() plans none
     wake_main()               ends the main loop's sleep */
#ifndef CALIPER_LINES_H
#define CALIPER_LINES_H

#include "board.h"
#include "clock_filter.h"
#include "edge_queue.h"
#include "facts.h"

#define VOTES (CALIPER_HALF_MIN_US / LOOK_US)

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

static inline bool clock_is_high(uint8_t pins) { return (pins & CLOCK_HIGH) != 0; }

static void begin_looks(void) {
  tick_t now = time_now_in_interrupt();
  clock_interrupt_off();
  clock_filter_begin(&filter, now);
  look_at((tick_t)(now + TICKS(LOOK_US)));
}

/* The pin is read once more after the interrupt is on again, so no edge in between is missed. */
static void listen(void) {
  no_look();
  clock_interrupt_on();
  if (clock_is_high(caliper_pins()) != filter.level) begin_looks();
}

static void stop(void) {
  clock_interrupt_off();
  no_look();
  lost = true;
  wake_main();
}

static bool queue_edge(void) {
  uint8_t edge = (uint8_t)((filter.level ? RISING : 0u) | (uint8_t)(clock_filter_data(&filter) << DATA_SHIFT));
  wake_main();
  return edge_queue_put(&queue, filter.at, edge);
}

static bool spike_fits(void) {
  spikes = (uint8_t)(spikes + 1u);
  return (uint8_t)(spikes - spikes_taken) < SPIKES_MAX;
}

static void end_looks(enum look_result result) {
  if (result == LOOK_EDGE ? queue_edge() : spike_fits()) {
    listen();
  } else {
    stop();
  }
}

/* The clock's interrupt is off during the looks: what happens between two of them does not count. */
static inline void clock_changed(void) {
  if (clock_is_high(caliper_pins()) != filter.level) {
    begin_looks();
  } else if (!spike_fits()) {
    stop();
  }
}

static inline void take_look(void) {
  tick_t now = time_now_in_interrupt();
  uint8_t pins = caliper_pins();
  enum look_result result = clock_filter_look(&filter, clock_is_high(pins), (pins & DATA_HIGH_NOW) != 0, VOTES);
  if (result == LOOK_AGAIN) {
    look_at((tick_t)(now + TICKS(LOOK_US)));
  } else {
    end_looks(result);
  }
}

static void listen_from_now(void) {
  filter.level = clock_is_high(caliper_pins());
  listen();
}

static void recover(struct device *device) {
  lost = false;
  device_caliper_lost(device, time_now());
  listen_from_now();
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

#endif
