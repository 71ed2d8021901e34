/* The caliper's state: a lead that is noisy is called noisy, and only one that is still is called silent. */
#include "caliper.h"

#include "outbox.h"

#define STILL_MAX 20u        /* fewer edges and spikes than this are a still lead; one frame has 48 edges */
#define REPEAT_JUDGEMENTS 5u /* noise and impossible data are sent again after this many */
#define FRAME_FAULT_MS 500u  /* dropped frames are sent at most this often */

void caliper_follow(struct caliper *caliper, const struct caliper_facts *facts, tick_t now) {
  *caliper = (struct caliper){.facts = facts, .judged_in = facts->silent_ms};
  frame_start(&caliper->frame, &facts->limits, now);
}

static uint16_t add_capped(uint16_t count, uint16_t more) {
  return more > UINT16_MAX - count ? UINT16_MAX : (uint16_t)(count + more);
}

static uint16_t less(uint16_t ms, uint8_t elapsed) { return ms > elapsed ? (uint16_t)(ms - elapsed) : 0; }

void caliper_edge(struct caliper *caliper, tick_t at, bool rising, enum data_level data) {
  caliper->activity = add_capped(caliper->activity, 1);
  frame_edge(&caliper->frame, at, rising, data);
}

void caliper_spikes(struct caliper *caliper, uint8_t count) {
  caliper->activity = add_capped(caliper->activity, count);
}

void caliper_lost_edges(struct caliper *caliper, tick_t now) {
  caliper->activity = UINT16_MAX;
  frame_lost(&caliper->frame, now);
}

static void begin_judgement(struct caliper *caliper) {
  caliper->judged_in = caliper->facts->silent_ms;
  caliper->activity = 0;
  caliper->impossible = 0;
  caliper->damaged = 0;
}

static void drop(struct caliper *caliper, enum frame_result result, uint16_t *faults) {
  uint16_t *count = result == FRAME_IMPOSSIBLE ? &caliper->impossible : &caliper->damaged;
  *count = add_capped(*count, 1);
  if (caliper->frame_fault_wait > 0) return;
  caliper->frame_fault_wait = FRAME_FAULT_MS;
  *faults |= FAULT_CALIPER_FRAME;
}

bool caliper_poll(struct caliper *caliper, tick_t now, struct reading *out, uint16_t *faults) {
  enum frame_result result = frame_poll(&caliper->frame, now, out);
  if (result == FRAME_NONE) return false;
  if (result != FRAME_READING) {
    drop(caliper, result, faults);
    return false;
  }
  if (caliper->fault) *faults |= FAULT_CALIPER_BACK;
  caliper->fault = 0;
  begin_judgement(caliper);
  return true;
}

static uint16_t judge(const struct caliper *caliper) {
  if (caliper->activity < STILL_MAX) return FAULT_CALIPER_SILENT;
  return caliper->impossible > caliper->damaged ? FAULT_CALIPER_DATA : FAULT_CALIPER_NOISE;
}

void caliper_age(struct caliper *caliper, uint8_t elapsed_ms, uint16_t *faults) {
  caliper->frame_fault_wait = less(caliper->frame_fault_wait, elapsed_ms);
  caliper->judged_in = less(caliper->judged_in, elapsed_ms);
  if (caliper->judged_in > 0) return;
  uint16_t fault = judge(caliper);
  bool again = fault != FAULT_CALIPER_SILENT && --caliper->repeat_in == 0;
  if (fault != caliper->fault || again) {
    *faults |= fault;
    caliper->repeat_in = REPEAT_JUDGEMENTS;
  }
  caliper->fault = fault;
  if (fault == FAULT_CALIPER_SILENT) frame_forget(&caliper->frame);
  begin_judgement(caliper);
}
