/* The whole board except its hardware: edges, samples and bytes go in, lines come out. */
#ifndef DEVICE_H
#define DEVICE_H

#include "buttons.h"
#include "caliper.h"
#include "feed.h"
#include "outbox.h"
#include "question.h"

#include <stdbool.h>
#include <stdint.h>

/* What facts.h says, in the core's own units. */
struct device_facts {
  struct identity identity;
  bool has_caliper;
  bool has_feed;
  struct caliper_facts caliper;
  struct feed_facts feed;
  uint16_t feed_calm_ms; /* an overrun is over after this long without another */
  uint8_t button_settle_ms;
};

/* What the board finds when it starts. */
struct device_start {
  uint16_t faults; /* why it restarted */
  tick_t now;
  uint8_t feed_lines;
  uint8_t pressed;
};

struct device {
  const struct device_facts *facts;
  uint32_t ms;
  struct caliper caliper;
  struct feed feed;
  uint16_t calm_in;    /* milliseconds until the feed's overrun is over, or 0 */
  bool feed_unusable;  /* the sensors' windows cannot be counted */
  struct buttons buttons;
  struct question question;
  struct outbox outbox;
};

void device_start(struct device *device, const struct device_facts *facts, const struct device_start *start);

/* A believed edge of the caliper's clock, spikes that were filtered out, or the news that edges were lost. */
void device_caliper_edge(struct device *device, tick_t at, bool rising, enum data_level data);
void device_caliper_spikes(struct device *device, uint8_t count);
void device_caliper_lost(struct device *device, tick_t now);

/* A snapshot of the feed's lines, or the news that some were lost. */
void device_feed_edge(struct device *device, tick_t at, uint8_t lines);
void device_feed_lost(struct device *device, uint8_t lines);

/* A byte from the program. */
void device_byte(struct device *device, uint8_t byte);

/* Lets time pass; call it at least every 100 ms. An edge that came after the queues were emptied and before `now` was
   read is handed in next time: it can only delay what it belongs to. */
void device_tick(struct device *device, tick_t now, uint8_t elapsed_ms, uint8_t pressed);

/* The next line to send; false when nothing waits. */
bool device_line(struct device *device, struct line *line);

#endif
