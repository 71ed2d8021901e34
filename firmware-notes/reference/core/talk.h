/* Decides which line is sent next, and gives every line its number. */
#ifndef TALK_H
#define TALK_H

#include "frame.h"
#include "line.h"

#include <stdbool.h>
#include <stdint.h>

#define TALK_FEED_MS 1000u

/* Who speaks: the fields of HI after the protocol version. */
struct identity {
  const char *firmware;
  const char *board;
  const char *parts;
};

/* Events waiting to be told, told from the lowest bit up. */
enum fault {
  FAULT_WATCHDOG = 1 << 0,
  FAULT_BROWNOUT = 1 << 1,
  FAULT_FEED_OVERRUN = 1 << 2,
  FAULT_CALIPER_SILENT = 1 << 3,
  FAULT_CALIPER_BACK = 1 << 4,
  FAULT_CALIPER_FRAME = 1 << 5,
};

/* What is still to be said. Nothing queues: each kind keeps its newest state, so space is fixed and a slow
   line delays but never falsifies. */
struct talk {
  const struct identity *who;
  uint16_t seq;
  bool hello;
  uint8_t faults;
  uint8_t buttons;
  uint8_t buttons_told;
  bool reading_waits;
  struct reading reading;
  bool feed_speaks; /* false while the total is in doubt, or with no feed */
  int32_t feed;
  int32_t feed_told;
  uint16_t feed_wait; /* milliseconds until the total is told again unasked */
};

/* Starts with HI to be said, then the faults that go with this start. */
void talk_start(struct talk *talk, const struct identity *who, uint8_t faults);

/* Lets milliseconds pass. */
void talk_tick(struct talk *talk, uint8_t elapsed_ms);

/* Writes the next line; false when there is nothing to say. Order: HI, FA, PB, DI, FE. */
bool talk_next(struct talk *talk, uint32_t ms, struct line *line);

#endif
