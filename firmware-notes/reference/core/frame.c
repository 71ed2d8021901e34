/* The frame decoder. A frame is a reading when every interval and every bit in it could be the caliper's own. */
#include "frame.h"

#define MAGNITUDE_BITS 0xFFFFFul /* bits 0 to 19 */
#define SIGN_BIT (1ul << 20)
#define INCH_BIT (1ul << 23)

void frame_start(struct frame *frame, const struct frame_limits *limits, tick_t now) {
  *frame = (struct frame){.limits = limits, .state = FRAME_LATE, .last = now};
}

/* Is this time before bit `count` one that the caliper makes? */
static bool rhythm_holds(struct frame *frame, tick_t gap) {
  const struct frame_limits *limits = frame->limits;
  if (frame->count % limits->group == 0) return gap >= limits->gap_min && gap <= limits->gap_max;
  if (gap < limits->edge_min || gap >= limits->gap_min) return false;
  if (gap < frame->shortest) frame->shortest = gap;
  if (gap > frame->longest) frame->longest = gap;
  return true;
}

static void begin(struct frame *frame) {
  frame->state = FRAME_INSIDE;
  frame->count = 0;
  frame->shortest = UINT16_MAX;
  frame->longest = 0;
  frame->between = DATA_UNSTEADY;
  frame->early = true;
  frame->late = true;
}

/* A caliper sets each bit at the other edge of the clock, or later. Within a frame it is always the one or the other, so
   a disturbance that holds the data lead through one sampling edge shows, and so does a data lead that touches the clock. */
static void compare_edges(struct frame *frame, enum data_level data) {
  if (frame->between == DATA_UNSTEADY) return;
  enum data_level before = frame->bits & (1ul << (FRAME_BITS - 1u)) ? DATA_HIGH : DATA_LOW;
  if (frame->between != data) frame->early = false;
  if (frame->count > 0 && frame->between != before) frame->late = false;
}

static void take_bit(struct frame *frame, tick_t gap, enum data_level data) {
  bool broken = frame->count == FRAME_BITS || (frame->count > 0 && !rhythm_holds(frame, gap));
  if (broken || data == DATA_UNSTEADY) {
    frame->state = FRAME_SPOILT;
    return;
  }
  compare_edges(frame, data);
  frame->bits >>= 1; /* 24 of these leave nothing of the frame before */
  if (data == DATA_HIGH) frame->bits |= 1ul << (FRAME_BITS - 1u);
  frame->count++;
}

void frame_edge(struct frame *frame, tick_t at, bool rising, enum data_level data) {
  bool sampling = rising == frame->limits->sample_rising;
  tick_t gap = ticks_since(at, frame->sampled);
  frame->last = at;
  if (sampling) frame->sampled = at;
  if (data == DATA_HIGH) frame->data_moved = true;
  if (frame->state == FRAME_QUIET) begin(frame);
  if (frame->state != FRAME_INSIDE) return;
  if (sampling) {
    take_bit(frame, gap, data);
  } else {
    frame->between = data;
  }
}

void frame_lost(struct frame *frame, tick_t now) {
  frame->last = now;
  frame->state = FRAME_SPOILT;
}

void frame_forget(struct frame *frame) { frame->data_moved = false; }

/* A pulse moved within its gap (one lost, one added) keeps count and limits, but not the even beat. */
static bool beat_is_even(const struct frame *frame) {
  return (uint32_t)frame->longest * 10u <= (uint32_t)frame->shortest * frame->limits->even_tenths;
}

/* A broken or shorted data lead makes frames of nothing but zeros: 0.00, if it were believed. */
static bool is_possible(const struct frame *frame) {
  const struct frame_limits *limits = frame->limits;
  uint32_t longest = frame->bits & INCH_BIT ? limits->longest_inch : limits->longest_mm;
  if (frame->bits & limits->zero_bits) return false;
  return (frame->bits & MAGNITUDE_BITS) <= longest && frame->data_moved && (frame->early || frame->late);
}

enum frame_result frame_poll(struct frame *frame, tick_t now, struct reading *out) {
  if (frame->state == FRAME_QUIET || ticks_since(now, frame->last) < frame->limits->quiet) return FRAME_NONE;
  enum frame_state ended = frame->state;
  frame->state = FRAME_QUIET;
  if (ended == FRAME_LATE || (ended == FRAME_INSIDE && frame->count == 0)) return FRAME_NONE;
  if (ended == FRAME_SPOILT || frame->count != FRAME_BITS || !beat_is_even(frame)) return FRAME_DAMAGED;
  if (!is_possible(frame)) return FRAME_IMPOSSIBLE;
  out->steps = frame->bits & MAGNITUDE_BITS;
  out->negative = (frame->bits & SIGN_BIT) != 0;
  out->inch = (frame->bits & INCH_BIT) != 0;
  return FRAME_READING;
}
