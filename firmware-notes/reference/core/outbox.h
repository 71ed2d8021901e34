/* Decides which line is sent next, and numbers every line. */
#ifndef OUTBOX_H
#define OUTBOX_H

#include "frame.h"
#include "line.h"

#include <stdbool.h>
#include <stdint.h>

#define OUTBOX_FEED_MS 1000u

/* The fields of HI after the protocol version. */
struct identity {
  const char *firmware;
  const char *board;
  const char *parts;
};

/* Faults that wait to be sent, the lowest bit first. */
enum fault {
  FAULT_WATCHDOG = 1 << 0,
  FAULT_BROWNOUT = 1 << 1,
  FAULT_FEED_WINDOWS = 1 << 2,
  FAULT_FEED_OVERRUN = 1 << 3,
  FAULT_CALIPER_SILENT = 1 << 4,
  FAULT_CALIPER_NOISE = 1 << 5,
  FAULT_CALIPER_DATA = 1 << 6,
  FAULT_CALIPER_BACK = 1 << 7,
  FAULT_CALIPER_FRAME = 1 << 8,
};

/* What is still to be sent. Nothing queues: each kind keeps its newest state, so space is fixed and a slow line
   delays but never falsifies. */
struct outbox {
  const struct identity *identity;
  uint16_t seq;
  bool hello;
  uint16_t faults;
  uint8_t buttons;
  uint8_t buttons_sent;
  bool reading_waits;
  struct reading reading;
  bool feed_valid; /* false while the total is in doubt, or with no feed */
  int32_t feed;
  int32_t feed_sent;
  uint16_t feed_wait; /* milliseconds until the total is sent again unchanged */
};

/* Starts with HI, then the faults that go with this start. */
void outbox_start(struct outbox *outbox, const struct identity *identity, uint16_t faults);

/* Lets milliseconds pass. */
void outbox_tick(struct outbox *outbox, uint8_t elapsed_ms);

/* Writes the next line; false when there is nothing to send. Order: HI, FA, PB, DI, FE. */
bool outbox_next(struct outbox *outbox, uint32_t ms, struct line *line);

#endif
