/* A queue of edges with their times: an interrupt puts them in, the main loop takes them out. */
#ifndef EDGE_QUEUE_H
#define EDGE_QUEUE_H

#include "ticks.h"

#include <stdbool.h>
#include <stdint.h>

#define EDGE_QUEUE_SPACE 32u

/* Invariant: `head` is written by the interrupt alone, `tail` by the main loop alone; a slot belongs to the
   interrupt until `head` has passed it. One slot stays empty, so that full and empty differ. For one processor core;
   a second one would need a memory barrier before `head` and `tail` are written. */
struct edge_queue {
  volatile uint8_t head;
  volatile uint8_t tail;
  volatile tick_t at[EDGE_QUEUE_SPACE];
  volatile uint8_t lines[EDGE_QUEUE_SPACE];
};

/* Puts one edge in; false when the queue is full, and then nothing was kept. */
static inline bool edge_queue_put(struct edge_queue *queue, tick_t at, uint8_t lines) {
  uint8_t head = queue->head;
  uint8_t next = (uint8_t)((head + 1u) % EDGE_QUEUE_SPACE);
  if (next == queue->tail) return false;
  queue->at[head] = at;
  queue->lines[head] = lines;
  queue->head = next;
  return true;
}

/* Takes the oldest edge out; false when the queue is empty. */
static inline bool edge_queue_take(struct edge_queue *queue, tick_t *at, uint8_t *lines) {
  uint8_t tail = queue->tail;
  if (tail == queue->head) return false;
  *at = queue->at[tail];
  *lines = queue->lines[tail];
  queue->tail = (uint8_t)((tail + 1u) % EDGE_QUEUE_SPACE);
  return true;
}

#endif
