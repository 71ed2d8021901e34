/* Turns the numbers of facts.h into the core's own units, and stops the build at one that cannot work. */
#include "settings.h"

#include "facts.h"
#include "version.h"

#define NOT_A_SWITCH(fact) ((fact) != 0 && (fact) != 1)
#define OUTSIDE(fact, least, most) ((fact) < (least) || (fact) > (most))

#if NOT_A_SWITCH(CALIPER_PRESENT) || NOT_A_SWITCH(FEED_PRESENT)
#error "facts.h: CALIPER_PRESENT and FEED_PRESENT are 0 or 1"
#endif
#if OUTSIDE(BUTTON_COUNT, 0, 4)
#error "facts.h: BUTTON_COUNT is 0 to 4; the bench line names buttons 1 to 4"
#endif
#if !CALIPER_PRESENT && !FEED_PRESENT && BUTTON_COUNT == 0
#error "facts.h: a board with no caliper, no feed and no button has nothing to say"
#endif
#if OUTSIDE(BUTTON_SETTLE_MS, 2, 100)
#error "facts.h: BUTTON_SETTLE_MS is 2 to 100"
#endif

#if NOT_A_SWITCH(CALIPER_INVERTED) || NOT_A_SWITCH(CALIPER_SAMPLE_RISING)
#error "facts.h: CALIPER_INVERTED and CALIPER_SAMPLE_RISING are 0 or 1"
#endif
#if OUTSIDE(CALIPER_GROUP_BITS, 2, 24)
#error "facts.h: CALIPER_GROUP_BITS is 4, or 24 where the clock makes no groups"
#endif
#if CALIPER_EDGE_MIN_US >= CALIPER_GAP_MIN_US || CALIPER_GAP_MIN_US >= CALIPER_GAP_MAX_US || \
    CALIPER_GAP_MAX_US >= CALIPER_QUIET_US || CALIPER_QUIET_US > 100000
#error "facts.h: the caliper's times must rise from CALIPER_EDGE_MIN_US over GAP_MIN and GAP_MAX to QUIET, 100000 at most"
#endif
#if OUTSIDE(CALIPER_HALF_MIN_US, 24, CALIPER_EDGE_MIN_US * 2 / 5)
#error "facts.h: CALIPER_HALF_MIN_US is 24 to two fifths of CALIPER_EDGE_MIN_US"
#endif
#if OUTSIDE(CALIPER_EVEN_TENTHS, 11, 30)
#error "facts.h: CALIPER_EVEN_TENTHS is 11 to 30; 10 would ask for a beat without any jitter"
#endif
#if OUTSIDE(CALIPER_SILENT_MS, 500, 10000)
#error "facts.h: CALIPER_SILENT_MS is 500 to 10000; a shorter one calls a slow caliper silent between two frames"
#endif
#if CALIPER_ZERO_BITS & ~0xF00000
#error "facts.h: CALIPER_ZERO_BITS may hold bits 20 to 23 only; the others are the value"
#endif
#if OUTSIDE(CALIPER_LONGEST_MM, 10, 10000)
#error "facts.h: CALIPER_LONGEST_MM is 10 to 10000"
#endif

#if NOT_A_SWITCH(FEED_COUNTS_STEPS) || NOT_A_SWITCH(FEED_INVERTED) || NOT_A_SWITCH(FEED_REVERSED)
#error "facts.h: FEED_COUNTS_STEPS, FEED_INVERTED and FEED_REVERSED are 0 or 1"
#endif
#if OUTSIDE(FEED_EDGES_PER_DETENT, 1, 1000) || (FEED_EDGES_PER_DETENT > 2 && FEED_EDGES_PER_DETENT % 4 != 0)
#error "facts.h: FEED_EDGES_PER_DETENT is 1, 2 or a multiple of 4 up to 1000"
#endif
#if OUTSIDE(FEED_REST_LINES, 0, 3)
#error "facts.h: FEED_REST_LINES is 0 for none, 1 for A, 2 for B, 3 for both"
#endif
#if OUTSIDE(FEED_FASTEST_US, 20, 5000)
#error "facts.h: FEED_FASTEST_US is 20 to 5000"
#endif
#if OUTSIDE(FEED_SETTLE_US, 500, 50000) || OUTSIDE(FEED_BOUNCE_MAX_US, 500, 100000)
#error "facts.h: FEED_SETTLE_US is 500 to 50000 and FEED_BOUNCE_MAX_US is 500 to 100000"
#endif
#if FEED_SPIKE_MAX_US < 0 || FEED_SPIKE_MAX_US >= FEED_SETTLE_US || FEED_SPIKE_MAX_US >= FEED_BOUNCE_MAX_US
#error "facts.h: FEED_SPIKE_MAX_US must be less than FEED_SETTLE_US and FEED_BOUNCE_MAX_US"
#endif
#if OUTSIDE(FEED_CALM_MS, 50, 10000)
#error "facts.h: FEED_CALM_MS is 50 to 10000"
#endif

/* The preprocessor cannot look into a text. An optimising compiler can, and drops the call where all is right. */
#define ID_LENGTH (sizeof(BOARD_ID) - 1u)
#define ID_CHAR(n) (BOARD_ID[(n) < ID_LENGTH ? (n) : 0u])
#define IN_RANGE(c, least, most) ((c) >= (least) && (c) <= (most))
#define ID_CHAR_IS_FINE(n)                                                                                  \
  (IN_RANGE(ID_CHAR(n), 'a', 'z') || IN_RANGE(ID_CHAR(n), 'A', 'Z') || IN_RANGE(ID_CHAR(n), '0', '9') || \
   ID_CHAR(n) == '-')
#define ID_FOUR_ARE_FINE(n) \
  (ID_CHAR_IS_FINE(n) && ID_CHAR_IS_FINE((n) + 1u) && ID_CHAR_IS_FINE((n) + 2u) && ID_CHAR_IS_FINE((n) + 3u))

#ifdef __OPTIMIZE__
void board_id_is_wrong(void)
    __attribute__((error("facts.h: BOARD_ID is 1 to 24 letters, digits and dashes, without spaces")));
void check_board_id(void);
void check_board_id(void) {
  if (ID_LENGTH < 1u || ID_LENGTH > 24u || !ID_FOUR_ARE_FINE(0u) || !ID_FOUR_ARE_FINE(4u) || !ID_FOUR_ARE_FINE(8u) ||
      !ID_FOUR_ARE_FINE(12u) || !ID_FOUR_ARE_FINE(16u) || !ID_FOUR_ARE_FINE(20u)) {
    board_id_is_wrong();
  }
}
#endif

#if CALIPER_PRESENT
#define PART_1 "caliper"
#else
#define PART_1 ""
#endif
#if FEED_PRESENT
#define PART_2 "feed"
#else
#define PART_2 ""
#endif
#if BUTTON_COUNT > 0
#define PART_3 "button"
#else
#define PART_3 ""
#endif
#if CALIPER_PRESENT && FEED_PRESENT
#define JOIN_1 "+"
#else
#define JOIN_1 ""
#endif
#if (CALIPER_PRESENT || FEED_PRESENT) && BUTTON_COUNT > 0
#define JOIN_2 "+"
#else
#define JOIN_2 ""
#endif

const struct device_facts settings = {
    .identity = {FIRMWARE_VERSION, BOARD_ID, PART_1 JOIN_1 PART_2 JOIN_2 PART_3},
    .has_caliper = CALIPER_PRESENT,
    .has_feed = FEED_PRESENT,
    .caliper = {.limits = {.sample_rising = CALIPER_SAMPLE_RISING,
                           .edge_min = TICKS(CALIPER_EDGE_MIN_US),
                           .gap_min = TICKS(CALIPER_GAP_MIN_US),
                           .gap_max = TICKS(CALIPER_GAP_MAX_US),
                           .quiet = TICKS(CALIPER_QUIET_US),
                           .group = CALIPER_GROUP_BITS,
                           .even_tenths = CALIPER_EVEN_TENTHS,
                           .zero_bits = CALIPER_ZERO_BITS,
                           .longest_mm = CALIPER_LONGEST_MM * 100ul,
                           .longest_inch = CALIPER_LONGEST_MM * 20000ul / 254ul},
                .silent_ms = CALIPER_SILENT_MS},
    .feed = {.kind = FEED_COUNTS_STEPS ? FEED_STEP : FEED_QUADRATURE,
             .reversed = FEED_REVERSED,
             .edges_per_detent = FEED_EDGES_PER_DETENT,
             .rest_lines = FEED_REST_LINES,
             .fastest = TICKS(FEED_FASTEST_US),
             .settle = TICKS(FEED_SETTLE_US),
             .bounce_max = TICKS(FEED_BOUNCE_MAX_US),
             .spike_max = TICKS(FEED_SPIKE_MAX_US)},
    .feed_calm_ms = FEED_CALM_MS,
    .button_settle_ms = BUTTON_SETTLE_MS,
};
