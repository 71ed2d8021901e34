/* Filters the caliper's two leads: an edge of the clock counts when most of several looks agree on it. */
#ifndef CLOCK_FILTER_H
#define CLOCK_FILTER_H

#include "ticks.h"

#include <stdbool.h>
#include <stdint.h>

/* An edge of the clock lead begins a series of looks, this far apart. Spikes between two looks are never seen, so noise
   of any rate costs a bounded share of the processor. */
#define LOOK_US 8u
#define LOOKS_MAX 20u /* a lead that cannot make up its mind in 160 us is noise */

/* The data lead during the looks at one edge. One look in disagreement is a spike; two make the level unsteady. */
enum data_level { DATA_LOW, DATA_HIGH, DATA_UNSTEADY };

enum look_result { LOOK_AGAIN, LOOK_NOTHING, LOOK_EDGE };

/* Invariant: only interrupts touch it, and they do not interrupt each other. */
struct clock_filter {
  bool level;    /* the clock's level as believed */
  tick_t at;     /* when the looks began */
  uint8_t votes; /* looks that saw the other level, less those that did not */
  uint8_t looks;
  uint8_t high; /* looks that saw the data lead high */
};

/* Begins a series of looks. */
static inline void clock_filter_begin(struct clock_filter *filter, tick_t at) {
  filter->at = at;
  filter->votes = 0;
  filter->looks = 0;
  filter->high = 0;
}

/* One look. LOOK_EDGE once the new level leads by `votes_needed`; `level` and `at` then describe that edge. */
static inline enum look_result clock_filter_look(struct clock_filter *filter, bool clock, bool data,
                                                 uint8_t votes_needed) {
  filter->looks++;
  if (data) filter->high++;
  if (clock != filter->level) {
    filter->votes++;
  } else if (filter->votes > 0) {
    filter->votes--;
  }
  if (filter->votes >= votes_needed) {
    filter->level = clock;
    return LOOK_EDGE;
  }
  return filter->votes == 0 || filter->looks >= LOOKS_MAX ? LOOK_NOTHING : LOOK_AGAIN;
}

/* The data level of the series that has just ended. */
static inline enum data_level clock_filter_data(const struct clock_filter *filter) {
  if (filter->high <= 1u) return DATA_LOW;
  return filter->looks <= filter->high + 1u ? DATA_HIGH : DATA_UNSTEADY;
}

#endif
