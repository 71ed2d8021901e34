/* Decodes caliper frames: 24 bits, least significant first, judged by the times between clock edges. */
#ifndef FRAME_H
#define FRAME_H

#include "clock_filter.h"
#include "ticks.h"

#include <stdbool.h>
#include <stdint.h>

#define FRAME_BITS 24u

/* What a caliper's frames look like. A frame carries no parity: these limits are all that tells damage from a reading. */
struct frame_limits {
  bool sample_rising;  /* the clock edge at which data is read */
  tick_t edge_min;     /* shortest time between two sampling edges */
  tick_t gap_min;      /* from here on it is a gap between groups, and only there */
  tick_t gap_max;      /* longest gap inside a frame */
  tick_t quiet;        /* a frame ends, and the next may start, after this much quiet */
  uint8_t group;       /* bits in a group: 4, or 24 where the clock makes no groups */
  uint8_t even_tenths; /* longest over shortest time inside the groups, in tenths */
  uint32_t zero_bits;  /* bits that are 0 in every frame */
  uint32_t longest_mm; /* largest magnitude that the caliper can show, in its steps */
  uint32_t longest_inch;
};

/* What the caliper shows, in its own steps: 0.01 mm, or 0.0005 in. */
struct reading {
  uint32_t steps;
  bool negative;
  bool inch;
};

enum frame_state { FRAME_LATE, FRAME_QUIET, FRAME_INSIDE, FRAME_SPOILT };

/* FRAME_IMPOSSIBLE has the caliper's rhythm, and bits that no reading has. */
enum frame_result { FRAME_NONE, FRAME_READING, FRAME_DAMAGED, FRAME_IMPOSSIBLE };

struct frame {
  const struct frame_limits *limits;
  enum frame_state state;
  uint8_t count;
  uint32_t bits;
  tick_t last;    /* any edge */
  tick_t sampled; /* the last sampling edge */
  tick_t shortest;
  tick_t longest;
  enum data_level between; /* data at the other edge of the clock, before the bit */
  bool early;              /* so far `between` was always the level of the bit itself */
  bool late;               /* so far `between` was always the level of the bit before */
  bool data_moved;         /* the data lead has been high since the start, or since frame_forget */
};

/* Starts late: whatever is under way is dropped, the first frame is the one after the first quiet. */
void frame_start(struct frame *frame, const struct frame_limits *limits, tick_t now);

/* A believed edge of the caliper's clock and the data level at it. Poll with the same moment first. */
void frame_edge(struct frame *frame, tick_t at, bool rising, enum data_level data);

/* Some edges were lost: the frame under way is spoilt. */
void frame_lost(struct frame *frame, tick_t now);

/* The caliper may have been unplugged: 0.00 is not believed again until the data lead has moved. */
void frame_forget(struct frame *frame);

/* Decides after the quiet, never on the last bit: a reading, a frame to drop, or nothing yet. */
enum frame_result frame_poll(struct frame *frame, tick_t now, struct reading *out);

#endif
