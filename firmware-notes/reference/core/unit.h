/* The whole board but for its hardware: edges, samples and bytes go in, lines come out. */
#ifndef UNIT_H
#define UNIT_H

#include "ask.h"
#include "buttons.h"
#include "feed.h"
#include "frame.h"
#include "talk.h"

#include <stdbool.h>
#include <stdint.h>

/* What facts.h says, in the core's own measures. */
struct unit_facts {
  struct identity who;
  bool has_caliper;
  bool has_feed;
  struct frame_limits caliper;
  uint16_t caliper_silent_ms;
  struct feed_facts feed;
  uint16_t feed_calm_ms; /* an overrun is over after this long without another */
  uint8_t button_settle_ms;
};

struct unit {
  const struct unit_facts *facts;
  uint32_t ms;
  struct frame frame;
  uint16_t silent_in; /* milliseconds until the caliper counts as silent, 0 when it does */
  struct feed feed;
  uint16_t calm_in; /* milliseconds until the feed's overrun is over, 0 when there is none */
  struct buttons buttons;
  struct ask ask;
  struct talk talk;
};

/* Starts everything; `faults` says why the board restarted. */
void unit_start(struct unit *unit, const struct unit_facts *facts, uint8_t faults, stamp_t now, uint8_t feed_lines);

/* A sampling edge of the caliper's clock, or the news that some were lost. */
void unit_caliper_edge(struct unit *unit, stamp_t at, bool data);
void unit_caliper_lost(struct unit *unit, stamp_t now);

/* A snapshot of the feed's lines, or the news that some were lost. */
void unit_feed_edge(struct unit *unit, stamp_t at, uint8_t lines);
void unit_feed_lost(struct unit *unit, uint8_t lines);

/* A byte from the program. */
void unit_byte(struct unit *unit, uint8_t byte);

/* Lets time pass; call it at least every 100 ms, with every edge before `now` already handed in. */
void unit_tick(struct unit *unit, stamp_t now, uint8_t elapsed_ms, uint8_t pressed);

/* The next line to send; false when there is none. */
bool unit_line(struct unit *unit, struct line *line);

#endif
