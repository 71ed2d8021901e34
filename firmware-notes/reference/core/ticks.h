/* Time for the core: a 16-bit count of 4 us that wraps every 262 ms. */
#ifndef TICKS_H
#define TICKS_H

#include <stdint.h>

/* Only the difference of two counts means anything, and only while they are less than 262 ms apart.
   Invariant: code that keeps a count is polled at least every 100 ms and drops the count in time. */
typedef uint16_t tick_t;

#define TICK_US 4u

#define TICKS(us) ((tick_t)((us) / TICK_US))

/* Time from `from` to `to`, right across the wrap. */
static inline tick_t ticks_since(tick_t to, tick_t from) { return (tick_t)(to - from); }

#endif
