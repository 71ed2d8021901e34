/* The feed counter. A total is exact, or a fault was reported before it. */
#include "feed.h"

#define ALL_PHASES 0x0Fu
#define SWAPS_MAX 6u /* our own choice: more than a hand makes about one detent before it first turns the wheel */

/* Where a quadrature wheel stands in its turn of four, A leading B when deeper. */
static uint8_t phase_of(uint8_t lines) {
  static const uint8_t phase[4] = {0, 1, 3, 2};
  return phase[lines & (FEED_A | FEED_B)];
}

/* Edges past the last detent for a wheel that stands still, so that detents fall on its rest. */
static int16_t part_of(const struct feed_facts *facts, uint8_t lines) {
  uint8_t past = (uint8_t)(phase_of(lines) - phase_of(facts->rest_lines)) % 4u;
  if (facts->edges_per_detent < 4u) past = (uint8_t)(past % facts->edges_per_detent);
  return past == 3u ? -1 : (int16_t)past;
}

void feed_start(struct feed *feed, const struct feed_facts *facts, uint8_t lines) {
  *feed = (struct feed){.facts = facts, .lines = lines, .phases_seen = (uint8_t)(1u << phase_of(lines))};
  if (facts->kind == FEED_QUADRATURE) feed->part = part_of(facts, lines);
}

static enum feed_result count_detent(struct feed *feed, bool forward) {
  bool deeper = forward != feed->facts->reversed;
  if (feed->total == (deeper ? INT32_MAX : INT32_MIN)) return FEED_OVERRUN;
  feed->total += deeper ? 1 : -1;
  return FEED_FINE;
}

/* Windows that never overlap, or never part, make A alone and B alone take turns over one and the same pair: every
   step forward is followed by a step back, and the total stays where it is. A wheel that works shows all four pairs
   within its first turn of four edges. */
static enum feed_result check_windows(struct feed *feed, uint8_t phase) {
  feed->phases_seen = (uint8_t)(feed->phases_seen | (1u << phase));
  if (feed->phases_seen == ALL_PHASES) return FEED_FINE;
  if (phase % 2u == 1u) {
    if (feed->last_single != 0 && feed->last_single != phase && feed->swaps < SWAPS_MAX) feed->swaps++;
    feed->last_single = phase;
  }
  return feed->swaps < SWAPS_MAX ? FEED_FINE : FEED_WINDOWS;
}

static enum feed_result count_edge(struct feed *feed, uint8_t lines, bool forward) {
  enum feed_result windows = check_windows(feed, phase_of(lines));
  if (windows != FEED_FINE) return windows;
  feed->part = (int16_t)(feed->part + (forward ? 1 : -1));
  int16_t detent = (int16_t)feed->facts->edges_per_detent;
  if (feed->part > -detent && feed->part < detent) return FEED_FINE;
  feed->part = 0;
  return count_detent(feed, forward);
}

static void note_place(struct feed *feed, uint8_t lines) {
  feed->before = (struct feed_place){.lines = lines, .part = feed->part, .total = feed->total};
}

static enum feed_result give_up(struct feed *feed, uint8_t lines) {
  feed->doubted = false;
  feed->part = part_of(feed->facts, lines);
  note_place(feed, lines);
  return FEED_OVERRUN;
}

/* Nothing is counted while in doubt. */
static enum feed_result quadrature_edge(struct feed *feed, tick_t at, uint8_t lines, uint8_t changed) {
  uint8_t turn = (uint8_t)(phase_of(lines) - phase_of(feed->lines)) % 4u;
  bool too_close = turn == 2u || (feed->moved && feed->moved != changed);
  if (!feed->moved) note_place(feed, feed->lines);
  feed->moved = changed;
  if (feed->doubted) return ticks_since(at, feed->doubt) > feed->facts->fastest ? give_up(feed, lines) : FEED_FINE;
  if (!too_close) return count_edge(feed, lines, turn == 1u);
  feed->doubted = true;
  feed->doubt = at;
  feed->doubt_lines = feed->lines;
  return FEED_FINE;
}

/* Lines that came back to where they were, all within `fastest`, had a spike: no hand turns a wheel a whole detent
   in that time. */
static enum feed_result quadrature_settled(struct feed *feed) {
  feed->moved = 0;
  if (!feed->doubted) return FEED_FINE;
  if (feed->lines == feed->before.lines) {
    feed->part = feed->before.part;
    feed->total = feed->before.total;
  } else if (feed->lines != feed->doubt_lines) {
    return give_up(feed, feed->lines);
  }
  feed->doubted = false;
  return FEED_FINE;
}

/* The first change of a burst fixes the direction; the burst is judged once line A has settled. */
static enum feed_result step_edge(struct feed *feed, tick_t at, uint8_t lines) {
  if (!feed->unsettled) {
    feed->unsettled = true;
    feed->first = (uint8_t)((feed->lines & FEED_A) | (lines & FEED_B));
    feed->burst = at;
    return FEED_FINE;
  }
  if (ticks_since(at, feed->burst) <= feed->facts->bounce_max) return FEED_FINE;
  feed->burst = at;
  return FEED_OVERRUN;
}

/* Line A closes at one place of the wheel when it turns deeper and opens at that same place when it turns back. So in
   counts as it closes and out counts as it opens, and rocking over an edge counts up and down again. */
static enum feed_result step_settled(struct feed *feed) {
  feed->unsettled = false;
  bool closed = (feed->lines & FEED_A) != 0;
  bool deeper = (feed->first & FEED_B) != 0;
  if ((feed->lines & FEED_A) == (feed->first & FEED_A)) {
    bool spike = ticks_since(feed->last, feed->burst) <= feed->facts->spike_max;
    return spike ? FEED_FINE : FEED_OVERRUN;
  }
  return closed == deeper ? count_detent(feed, deeper) : FEED_FINE;
}

enum feed_result feed_edge(struct feed *feed, tick_t at, uint8_t lines) {
  uint8_t changed = (feed->lines ^ lines) & (FEED_A | FEED_B);
  enum feed_result result = FEED_FINE;
  bool step = feed->facts->kind == FEED_STEP;
  if (step) changed &= FEED_A;
  if (changed) {
    result = step ? step_edge(feed, at, lines) : quadrature_edge(feed, at, lines, changed);
    feed->last = at;
  }
  feed->lines = lines;
  return result;
}

enum feed_result feed_lost(struct feed *feed, uint8_t lines) {
  int32_t total = feed->total;
  uint8_t seen = feed->phases_seen;
  feed_start(feed, feed->facts, lines);
  feed->total = total;
  feed->phases_seen = (uint8_t)(feed->phases_seen | seen);
  return FEED_OVERRUN;
}

enum feed_result feed_poll(struct feed *feed, tick_t now) {
  tick_t still = ticks_since(now, feed->last);
  if (feed->moved && still >= feed->facts->fastest) return quadrature_settled(feed);
  if (feed->unsettled && still >= feed->facts->settle) return step_settled(feed);
  return FEED_FINE;
}
