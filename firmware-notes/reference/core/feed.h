/* Counts the detents of the feed wheel, in quadrature or by one edge and a direction. */
#ifndef FEED_H
#define FEED_H

#include "stamp.h"

#include <stdbool.h>
#include <stdint.h>

/* Line A and line B as the core sees them: 1 is active. */
#define FEED_A 1u
#define FEED_B 2u

enum feed_kind { FEED_QUADRATURE, FEED_STEP };

struct feed_facts {
  enum feed_kind kind;
  bool reversed;            /* deeper turns the other way */
  uint8_t edges_per_detent; /* quadrature: 1, 2 or 4 */
  uint8_t rest_lines;       /* quadrature: the lines with the wheel in a detent */
  stamp_t fastest;          /* quadrature: shortest time from a change of one line to one of the other */
  stamp_t settle;           /* step: line A keeps still this long before it is believed */
  stamp_t bounce_max;       /* step: no contact bounces longer than this */
  stamp_t spike_max;        /* step: a visit shorter than this is a spike, not a detent */
};

/* Invariant: `total` is right as long as no call has returned FEED_OVERRUN. */
struct feed {
  const struct feed_facts *facts;
  int32_t total;
  uint8_t lines;      /* as last seen */
  int8_t part;        /* quadrature: edges since the last detent */
  uint8_t moved;      /* quadrature: the line that changed within `fastest`, or 0 */
  bool unsettled;     /* step: line A is in a burst of changes */
  uint8_t before;     /* step: the lines before that burst */
  stamp_t burst;      /* step: when the burst began */
  stamp_t last;       /* when a line last changed */
};

enum feed_result { FEED_FINE, FEED_OVERRUN };

/* Starts at zero with the lines as they are. */
void feed_start(struct feed *feed, const struct feed_facts *facts, uint8_t lines);

/* A snapshot of both lines; equal ones in a row do no harm. Poll with the same moment first. */
enum feed_result feed_edge(struct feed *feed, stamp_t at, uint8_t lines);

/* Snapshots were lost: takes the lines as they are now. Always an overrun. */
enum feed_result feed_lost(struct feed *feed, uint8_t lines);

/* Lets time pass: forgets old changes, believes what has settled. */
enum feed_result feed_poll(struct feed *feed, stamp_t now);

#endif
