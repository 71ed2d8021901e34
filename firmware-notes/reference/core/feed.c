/* The feed counter. What it cannot count it says: a total is exact, or an overrun was reported before it. */
#include "feed.h"

#include <stdlib.h>

/* Where a quadrature wheel stands in its turn of four, A leading B when deeper. */
static uint8_t phase_of(uint8_t lines) {
  static const uint8_t phase[4] = {0, 1, 3, 2};
  return phase[lines & (FEED_A | FEED_B)];
}

/* Edges past the last detent for a wheel that stands still, so that detents fall on its rest. */
static int8_t part_of(const struct feed_facts *facts, uint8_t lines) {
  uint8_t past = (uint8_t)(phase_of(lines) - phase_of(facts->rest_lines)) % 4u;
  past %= facts->edges_per_detent;
  return past == 3u ? -1 : (int8_t)past;
}

void feed_start(struct feed *feed, const struct feed_facts *facts, uint8_t lines) {
  *feed = (struct feed){.facts = facts, .lines = lines};
  if (facts->kind == FEED_QUADRATURE) feed->part = part_of(facts, lines);
}

static enum feed_result count_detent(struct feed *feed, bool forward) {
  bool deeper = forward != feed->facts->reversed;
  if (feed->total == (deeper ? INT32_MAX : INT32_MIN)) return FEED_OVERRUN;
  feed->total += deeper ? 1 : -1;
  return FEED_FINE;
}

static enum feed_result quadrature_edge(struct feed *feed, uint8_t lines, uint8_t changed) {
  uint8_t turn = (uint8_t)(phase_of(lines) - phase_of(feed->lines)) % 4u;
  bool too_fast = turn == 2u || (feed->moved && feed->moved != changed);
  feed->moved = changed;
  if (too_fast) {
    feed->part = part_of(feed->facts, lines);
    return FEED_OVERRUN;
  }
  feed->part = (int8_t)(feed->part + (turn == 1u ? 1 : -1));
  if (abs(feed->part) < feed->facts->edges_per_detent) return FEED_FINE;
  feed->part = 0;
  return count_detent(feed, turn == 1u);
}

/* The first change of a burst fixes the direction; the burst is judged once line A has settled. */
static enum feed_result step_edge(struct feed *feed, stamp_t at, uint8_t lines) {
  if (!feed->unsettled) {
    feed->unsettled = true;
    feed->before = (uint8_t)((feed->lines & FEED_A) | (lines & FEED_B));
    feed->burst = at;
    return FEED_FINE;
  }
  if (stamp_since(at, feed->burst) <= feed->facts->bounce_max) return FEED_FINE;
  feed->burst = at;
  return FEED_OVERRUN;
}

static enum feed_result step_settled(struct feed *feed) {
  feed->unsettled = false;
  uint8_t now = feed->lines & FEED_A;
  if (now == (feed->before & FEED_A)) {
    bool spike = stamp_since(feed->last, feed->burst) <= feed->facts->spike_max;
    return spike ? FEED_FINE : FEED_OVERRUN;
  }
  return now ? count_detent(feed, (feed->before & FEED_B) != 0) : FEED_FINE;
}

enum feed_result feed_edge(struct feed *feed, stamp_t at, uint8_t lines) {
  uint8_t changed = (feed->lines ^ lines) & (FEED_A | FEED_B);
  enum feed_result result = FEED_FINE;
  if (feed->facts->kind == FEED_STEP) changed &= FEED_A;
  if (changed) {
    result = feed->facts->kind == FEED_STEP ? step_edge(feed, at, lines) : quadrature_edge(feed, lines, changed);
    feed->last = at;
  }
  feed->lines = lines;
  return result;
}

enum feed_result feed_lost(struct feed *feed, uint8_t lines) {
  int32_t total = feed->total;
  feed_start(feed, feed->facts, lines);
  feed->total = total;
  return FEED_OVERRUN;
}

enum feed_result feed_poll(struct feed *feed, stamp_t now) {
  stamp_t still = stamp_since(now, feed->last);
  if (feed->moved && still >= feed->facts->fastest) feed->moved = 0;
  if (feed->unsettled && still >= feed->facts->settle) return step_settled(feed);
  return FEED_FINE;
}
