/* What a moment is for the core: a 16-bit count of 4 us that wraps every 262 ms. */
#ifndef STAMP_H
#define STAMP_H

#include <stdint.h>

/* Only differences of two stamps mean anything, and only while the moments lie less than 262 ms apart.
   Invariant: whoever keeps a stamp is polled at least every 100 ms and forgets it in time. */
typedef uint16_t stamp_t;

#define STAMP_US 4u

#define STAMPS(us) ((stamp_t)((us) / STAMP_US))

/* Time from `from` to `to`, right across the wrap. */
static inline stamp_t stamp_since(stamp_t to, stamp_t from) { return (stamp_t)(to - from); }

#endif
