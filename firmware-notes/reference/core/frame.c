/* The frame decoder. A frame is taken when every interval in it could be the caliper's own. */
#include "frame.h"

#define MAGNITUDE_BITS 0xFFFFFul /* bits 0 to 19 */
#define SIGN_BIT (1ul << 20)
#define INCH_BIT (1ul << 23)

void frame_start(struct frame *frame, const struct frame_limits *limits, stamp_t now) {
  *frame = (struct frame){.limits = limits, .state = FRAME_LATE, .last = now};
}

/* Is this time before bit `count` one that the caliper makes? */
static bool rhythm_holds(struct frame *frame, stamp_t gap) {
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
}

void frame_edge(struct frame *frame, stamp_t at, bool data) {
  stamp_t gap = stamp_since(at, frame->last);
  frame->last = at;
  if (frame->state == FRAME_QUIET) {
    begin(frame);
  } else if (frame->state == FRAME_INSIDE) {
    if (frame->count == FRAME_BITS || !rhythm_holds(frame, gap)) frame->state = FRAME_SPOILT;
  }
  if (frame->state != FRAME_INSIDE) return;
  frame->bits >>= 1; /* 24 of these leave nothing of the frame before */
  if (data) frame->bits |= 1ul << (FRAME_BITS - 1u);
  frame->count++;
}

void frame_lost(struct frame *frame, stamp_t now) {
  frame->last = now;
  frame->state = FRAME_SPOILT;
}

/* A pulse moved within its gap (one lost, one added) keeps count and limits, but not the even beat. */
static bool beat_is_even(const struct frame *frame) {
  return (uint32_t)frame->longest * 10u <= (uint32_t)frame->shortest * frame->limits->even_tenths;
}

enum frame_result frame_poll(struct frame *frame, stamp_t now, struct reading *out) {
  if (frame->state == FRAME_QUIET || stamp_since(now, frame->last) < frame->limits->quiet) return FRAME_NONE;
  enum frame_state ended = frame->state;
  frame->state = FRAME_QUIET;
  if (ended == FRAME_LATE) return FRAME_NONE;
  if (ended == FRAME_SPOILT || frame->count != FRAME_BITS || !beat_is_even(frame)) return FRAME_DAMAGED;
  out->steps = frame->bits & MAGNITUDE_BITS;
  out->negative = (frame->bits & SIGN_BIT) != 0;
  out->inch = (frame->bits & INCH_BIT) != 0;
  return FRAME_READING;
}
