/* Counts the detents of the feed wheel: from two sensors in quadrature, or from pulses and a direction. */
#ifndef FEED_H
#define FEED_H

#include "ticks.h"

#include <stdbool.h>
#include <stdint.h>

/* Line A and line B as the core sees them: 1 is active. */
#define FEED_A 1u
#define FEED_B 2u

enum feed_kind { FEED_QUADRATURE, FEED_STEP };

struct feed_facts {
  enum feed_kind kind;
  bool reversed;             /* deeper turns the other way */
  uint16_t edges_per_detent; /* quadrature: 1, 2 or a multiple of 4 */
  uint8_t rest_lines;        /* quadrature: the lines with the wheel in a detent */
  tick_t fastest;            /* quadrature: shortest time from a change of one line to one of the other */
  tick_t settle;             /* step: line A keeps still this long before it is believed */
  tick_t bounce_max;         /* step: no contact bounces longer than this */
  tick_t spike_max;          /* step: a visit shorter than this is a spike, not a detent */
};

/* Where a quadrature wheel was before something that may have been a spike. */
struct feed_place {
  uint8_t lines;
  int16_t part;
  int32_t total;
};

/* Invariant: `total` is right as long as no call has returned anything but FEED_FINE. */
struct feed {
  const struct feed_facts *facts;
  int32_t total;
  uint8_t lines; /* as last seen */
  tick_t last;   /* when a line last changed */

  /* quadrature */
  int16_t part;              /* edges since the last detent */
  uint8_t moved;             /* the lines that changed within `fastest`, or 0 */
  bool doubted;              /* edges came too close together: a spike, or a wheel too fast to count */
  tick_t doubt;              /* since when */
  struct feed_place before;  /* the place before the edges under way */
  uint8_t doubt_lines;       /* the lines before the first doubted edge */
  uint8_t phases_seen;       /* one bit for each of the four pairs of levels */
  uint8_t last_single;       /* the phase in which one line alone was last active */
  uint8_t swaps;             /* changes from A alone to B alone or back while a pair has never been seen */

  /* step */
  bool unsettled; /* line A is in a burst of changes */
  uint8_t first;  /* the lines at the first change of that burst: A as it was before, B as it was then */
  tick_t burst;   /* when the burst began */
};

/* FEED_OVERRUN: the total is not to be trusted. FEED_WINDOWS: the sensors' windows do not overlap, or never part. */
enum feed_result { FEED_FINE, FEED_OVERRUN, FEED_WINDOWS };

/* Starts at zero with the lines as they are. */
void feed_start(struct feed *feed, const struct feed_facts *facts, uint8_t lines);

/* A snapshot of both lines; equal ones in a row do no harm. Poll with the same moment first. */
enum feed_result feed_edge(struct feed *feed, tick_t at, uint8_t lines);

/* Snapshots were lost: goes on from the lines as they are now. Always an overrun. */
enum feed_result feed_lost(struct feed *feed, uint8_t lines);

/* Lets time pass: settles what was in doubt. */
enum feed_result feed_poll(struct feed *feed, tick_t now);

#endif
