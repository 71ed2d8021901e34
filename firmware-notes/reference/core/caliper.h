/* Follows the caliper: its readings, and the fault to report when none come. */
#ifndef CALIPER_H
#define CALIPER_H

#include "frame.h"
#include "ticks.h"

#include <stdbool.h>
#include <stdint.h>

struct caliper_facts {
  struct frame_limits limits;
  uint16_t silent_ms; /* no good frame for this long is a fault */
};

struct caliper {
  const struct caliper_facts *facts;
  struct frame frame;
  uint16_t judged_in;   /* milliseconds until the time without a good frame is judged */
  uint16_t activity;    /* edges and spikes since the last good frame or judgement */
  uint16_t impossible;  /* frames in that time with the right rhythm and bits that no reading has */
  uint16_t damaged;     /* frames in that time with a wrong rhythm */
  uint16_t fault;       /* the fault that stands, 0 while good frames come */
  uint8_t repeat_in;    /* judgements until a standing fault is sent again */
  uint16_t frame_fault_wait; /* milliseconds until the next dropped frame is sent */
};

void caliper_follow(struct caliper *caliper, const struct caliper_facts *facts, tick_t now);

/* A believed edge of the clock, spikes that were filtered out, or the news that edges were lost. */
void caliper_edge(struct caliper *caliper, tick_t at, bool rising, enum data_level data);
void caliper_spikes(struct caliper *caliper, uint8_t count);
void caliper_lost_edges(struct caliper *caliper, tick_t now);

/* Ends a frame when it is time: true with a reading in `out`. Adds to `faults` (enum fault). */
bool caliper_poll(struct caliper *caliper, tick_t now, struct reading *out, uint16_t *faults);

/* Lets milliseconds pass. Adds to `faults`. */
void caliper_age(struct caliper *caliper, uint8_t elapsed_ms, uint16_t *faults);

#endif
