/* A ring of line snapshots: an interrupt copies in, the main loop takes out. */
#ifndef EDGES_H
#define EDGES_H

#include "stamp.h"

#include <stdbool.h>
#include <stdint.h>

#define EDGES_SPACE 32u

/* Invariant: `head` is written by the interrupt alone, `tail` by the main loop alone; a slot belongs to the
   interrupt until `head` has passed it. One slot stays empty, so that full and empty differ. */
struct edges {
  volatile uint8_t head;
  volatile uint8_t tail;
  volatile stamp_t at[EDGES_SPACE];
  volatile uint8_t lines[EDGES_SPACE];
};

/* Puts one snapshot in; false when there is no room, and then nothing was kept. */
static inline bool edges_put(struct edges *ring, stamp_t at, uint8_t lines) {
  uint8_t head = ring->head;
  uint8_t next = (uint8_t)((head + 1u) % EDGES_SPACE);
  if (next == ring->tail) return false;
  ring->at[head] = at;
  ring->lines[head] = lines;
  ring->head = next;
  return true;
}

/* Takes the oldest snapshot out; false when there is none. */
static inline bool edges_take(struct edges *ring, stamp_t *at, uint8_t *lines) {
  uint8_t tail = ring->tail;
  if (tail == ring->head) return false;
  *at = ring->at[tail];
  *lines = ring->lines[tail];
  ring->tail = (uint8_t)((tail + 1u) % EDGES_SPACE);
  return true;
}

#endif
