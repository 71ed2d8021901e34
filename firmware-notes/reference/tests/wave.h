/* Writes caliper frames for the host tests: the sampling edges of a clock and the level of data at each. */
#ifndef WAVE_H
#define WAVE_H

#include "frame.h"
#include "ticks.h"

#define WAVE_SPACE 64u

#define DATA(level) ((level) ? DATA_HIGH : DATA_LOW)

struct wave {
  unsigned count;
  tick_t gap[WAVE_SPACE]; /* time before each edge; the first is the quiet before the frame */
  bool data[WAVE_SPACE];
};

extern const struct frame_limits wave_limits; /* those of facts/bench-01, with every length allowed */

/* A frame of even bits of `bit_us` and gaps of `gap_us` between groups, after `quiet_us` of quiet. */
struct wave wave_of(uint32_t bits, unsigned bit_us, unsigned gap_us, unsigned quiet_us);

/* Takes edge n away; the time before it goes to the next. */
void wave_drop(struct wave *wave, unsigned n);

/* Adds an edge `us` after edge n. */
void wave_add(struct wave *wave, unsigned n, unsigned us, bool data);

/* The 24 bits of a value. */
uint32_t wave_bits(uint32_t steps, bool negative, bool inch);

#endif
