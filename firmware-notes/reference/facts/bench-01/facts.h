/* The facts of bench-01: a nibble-clocked caliper behind an NPN stage, a quadrature feed wheel, four buttons. */
#ifndef FACTS_H
#define FACTS_H

/* Who this board is: 1 to 24 letters, digits and dashes. Every board of a shop needs its own. */
#define BOARD_ID "bench-01"

/* Serial port */
#define BAUD 115200

/* Caliper */
#define CALIPER_PRESENT 1
#define CALIPER_INVERTED 1      /* 1 when the level stage inverts both leads (one NPN each), 0 for a comparator */
#define CALIPER_SAMPLE_RISING 1 /* data is read when the caliper's own clock lead rises: 1, or falls: 0 */

/* Its rhythm in microseconds, measured between two sampling edges of the clock */
#define CALIPER_HALF_MIN_US 56  /* the clock keeps each level at least this long; anything shorter is a spike */
#define CALIPER_EDGE_MIN_US 180 /* shortest time from bit to bit */
#define CALIPER_GAP_MIN_US 550  /* from here on it is a gap between two groups */
#define CALIPER_GAP_MAX_US 1000 /* longest gap inside a frame */
#define CALIPER_QUIET_US 4000   /* this much quiet ends a frame */
#define CALIPER_GROUP_BITS 4    /* bits in a group; 24 where the clock makes no groups */
#define CALIPER_EVEN_TENTHS 13  /* longest over shortest time inside the groups of one frame, in tenths */
#define CALIPER_SILENT_MS 1000  /* no good frame for this long is a fault */

/* What its frames may say */
#define CALIPER_ZERO_BITS 0x600000 /* bits that are 0 in every frame */
#define CALIPER_LONGEST_MM 320     /* the largest value it can show; a little over its length */

/* Feed */
#define FEED_PRESENT 1
#define FEED_COUNTS_STEPS 0     /* 0: two sensors in quadrature; 1: A makes one pulse a detent, B says which way */
#define FEED_INVERTED 1         /* 1 when a closed contact or a triggered sensor pulls its line low */
#define FEED_REVERSED 0         /* 1 when the total runs the wrong way */
#define FEED_EDGES_PER_DETENT 4 /* quadrature: 1, 2 or a multiple of 4 */
#define FEED_REST_LINES 0       /* quadrature: active lines in a detent, A is 1, B is 2, both 3, none 0 */
#define FEED_FASTEST_US 100     /* quadrature: shortest time from a change of one line to a change of the other */
#define FEED_SETTLE_US 3000     /* steps: line A keeps still this long before it is believed */
#define FEED_BOUNCE_MAX_US 5000 /* steps: no contact bounces longer than this */
#define FEED_SPIKE_MAX_US 60    /* steps: a visit shorter than this is a spike on a long lead, not a detent */
#define FEED_CALM_MS 250        /* an overrun is over after this long without another */

/* Buttons, each closing to ground */
#define BUTTON_COUNT 4
#define BUTTON_SETTLE_MS 15

#endif
