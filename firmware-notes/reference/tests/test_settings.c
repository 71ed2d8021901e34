/* The facts of this build: the board can say hello with them, and their times survive the change of units. */
#include "check.h"
#include "facts.h"
#include "settings.h"

#include <string.h>

void test_settings(void) {
  struct device device;
  struct line line;
  struct device_start found = {0};
  device_start(&device, &settings, &found);
  CHECK(device_line(&device, &line) && strstr(line.text, "," BOARD_ID ",") != NULL);
  CHECK(settings.has_caliper == (strstr(line.text, "caliper") != NULL));
  CHECK(settings.has_feed == (strstr(line.text, "feed") != NULL));
  CHECK((BUTTON_COUNT > 0) == (strstr(line.text, "button") != NULL));
  CHECK(settings.caliper.limits.quiet * TICK_US == CALIPER_QUIET_US && settings.caliper.limits.group == CALIPER_GROUP_BITS);
  CHECK(settings.caliper.limits.edge_min > 0 && settings.caliper.limits.even_tenths > 10);
  CHECK(settings.feed.kind == (FEED_COUNTS_STEPS ? FEED_STEP : FEED_QUADRATURE));
  CHECK(settings.caliper.silent_ms > 0 && settings.feed_calm_ms > 0 && settings.button_settle_ms > 0);
}
