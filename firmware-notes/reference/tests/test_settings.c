/* The facts of this build: the board can say hello with them, and their times survive the change of units. */
#include "check.h"
#include "facts.h"
#include "settings.h"

#include <string.h>

void test_settings(void) {
  struct unit unit;
  struct line line;
  unit_start(&unit, &settings, 0, 0, 0);
  CHECK(unit_line(&unit, &line) && strstr(line.text, "," BOARD_ID ",") != NULL);
  CHECK(settings.has_caliper == (strstr(line.text, "caliper") != NULL));
  CHECK(settings.has_feed == (strstr(line.text, "feed") != NULL));
  CHECK((BUTTON_COUNT > 0) == (strstr(line.text, "button") != NULL));
  CHECK(settings.caliper.quiet * STAMP_US == CALIPER_QUIET_US && settings.caliper.group == CALIPER_GROUP_BITS);
  CHECK(settings.caliper.edge_min > 0 && settings.caliper.even_tenths > 10);
  CHECK(settings.feed.kind == (FEED_COUNTS_STEPS ? FEED_STEP : FEED_QUADRATURE));
  CHECK(settings.caliper_silent_ms > 0 && settings.feed_calm_ms > 0 && settings.button_settle_ms > 0);
}
