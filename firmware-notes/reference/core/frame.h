/* Decodes caliper frames: 24 bits, least significant first, judged by the times between clock edges. */
#ifndef FRAME_H
#define FRAME_H

#include "stamp.h"

#include <stdbool.h>
#include <stdint.h>

#define FRAME_BITS 24u

/* The caliper's rhythm. A frame carries no parity: these limits are all that tells damage from a reading. */
struct frame_limits {
  stamp_t edge_min;    /* shortest time between two sampling edges */
  stamp_t gap_min;     /* from here on it is a gap between groups, and only there */
  stamp_t gap_max;     /* longest gap inside a frame */
  stamp_t quiet;       /* a frame ends, and the next may start, after this much quiet */
  uint8_t group;       /* bits in a group: 4, or 24 where the clock makes no groups */
  uint8_t even_tenths; /* longest over shortest time inside the groups, in tenths */
};

/* What the caliper shows, in its own steps: 0.01 mm, or 0.0005 in. */
struct reading {
  uint32_t steps;
  bool negative;
  bool inch;
};

enum frame_state { FRAME_LATE, FRAME_QUIET, FRAME_INSIDE, FRAME_SPOILT };
enum frame_result { FRAME_NONE, FRAME_READING, FRAME_DAMAGED };

struct frame {
  const struct frame_limits *limits;
  enum frame_state state;
  uint8_t count;
  uint32_t bits;
  stamp_t last;
  stamp_t shortest;
  stamp_t longest;
};

/* Starts late: whatever is under way is not taken, the first frame is the one after the first quiet. */
void frame_start(struct frame *frame, const struct frame_limits *limits, stamp_t now);

/* One sampling edge of the clock and the data level then. Poll with the same moment first. */
void frame_edge(struct frame *frame, stamp_t at, bool data);

/* Some edges were lost: the frame under way is spoilt. */
void frame_lost(struct frame *frame, stamp_t now);

/* Decides after the quiet, never on the last bit: a reading, a damaged frame, or nothing yet. */
enum frame_result frame_poll(struct frame *frame, stamp_t now, struct reading *out);

#endif
