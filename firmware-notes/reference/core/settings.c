/* Turns the numbers of facts.h into the core's own measures and refuses those that cannot work. */
#include "settings.h"

#include "facts.h"
#include "version.h"

#if !CALIPER_PRESENT && !FEED_PRESENT && BUTTON_COUNT == 0
#error "facts.h: a board with no caliper, no feed and no button has nothing to say"
#endif
#if BUTTON_COUNT > 4
#error "facts.h: the bench line names buttons 1 to 4, so BUTTON_COUNT is 0 to 4"
#endif
#if FEED_EDGES_PER_DETENT != 1 && FEED_EDGES_PER_DETENT != 2 && FEED_EDGES_PER_DETENT != 4
#error "facts.h: FEED_EDGES_PER_DETENT is 1, 2 or 4"
#endif
#if CALIPER_GROUP_BITS < 2 || CALIPER_GROUP_BITS > 24
#error "facts.h: CALIPER_GROUP_BITS is 4, or 24 where the clock makes no groups"
#endif
#if CALIPER_EDGE_MIN_US >= CALIPER_GAP_MIN_US || CALIPER_GAP_MIN_US >= CALIPER_GAP_MAX_US || \
    CALIPER_GAP_MAX_US >= CALIPER_QUIET_US
#error "facts.h: the caliper's times must rise from CALIPER_EDGE_MIN_US over GAP_MIN and GAP_MAX to QUIET"
#endif
#if CALIPER_QUIET_US > 100000 || FEED_FASTEST_US > 100000 || FEED_SETTLE_US > 100000 || FEED_BOUNCE_MAX_US > 100000
#error "facts.h: no time in microseconds may be over 100000, the stamps wrap at 262144"
#endif

/* HI has room for a board id of 24 characters. */
typedef char board_id_fits[sizeof(BOARD_ID) <= 25 && sizeof(BOARD_ID) >= 2 ? 1 : -1];

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

const struct unit_facts settings = {
    .who = {FIRMWARE_VERSION, BOARD_ID, PART_1 JOIN_1 PART_2 JOIN_2 PART_3},
    .has_caliper = CALIPER_PRESENT,
    .has_feed = FEED_PRESENT,
    .caliper = {.edge_min = STAMPS(CALIPER_EDGE_MIN_US),
                .gap_min = STAMPS(CALIPER_GAP_MIN_US),
                .gap_max = STAMPS(CALIPER_GAP_MAX_US),
                .quiet = STAMPS(CALIPER_QUIET_US),
                .group = CALIPER_GROUP_BITS,
                .even_tenths = CALIPER_EVEN_TENTHS},
    .caliper_silent_ms = CALIPER_SILENT_MS,
    .feed = {.kind = FEED_COUNTS_STEPS ? FEED_STEP : FEED_QUADRATURE,
             .reversed = FEED_REVERSED,
             .edges_per_detent = FEED_EDGES_PER_DETENT,
             .rest_lines = FEED_REST_LINES,
             .fastest = STAMPS(FEED_FASTEST_US),
             .settle = STAMPS(FEED_SETTLE_US),
             .bounce_max = STAMPS(FEED_BOUNCE_MAX_US),
             .spike_max = STAMPS(FEED_SPIKE_MAX_US)},
    .feed_calm_ms = FEED_CALM_MS,
    .button_settle_ms = BUTTON_SETTLE_MS,
};
