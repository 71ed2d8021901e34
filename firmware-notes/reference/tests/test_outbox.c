/* The order of the lines, their numbers, and what waits for what. */
#include "check.h"
#include "outbox.h"

#include <string.h>

static const struct identity who = {"0.1.0", "bench-01", "caliper+feed+button"};

static bool begins(const struct line *line, const char *text) { return strncmp(line->text, text, strlen(text)) == 0; }

static bool says(struct outbox *outbox, const char *text) {
  struct line line = {.length = 0};
  return CHECK_ROW(outbox_next(outbox, 7, &line), text) && CHECK_ROW(begins(&line, text), text);
}

static bool silent(struct outbox *outbox) {
  struct line line;
  return !outbox_next(outbox, 7, &line);
}

static void test_order(void) {
  struct outbox outbox;
  outbox_start(&outbox, &who, FAULT_WATCHDOG | FAULT_BROWNOUT);
  outbox.faults |= FAULT_CALIPER_FRAME | FAULT_CALIPER_BACK | FAULT_CALIPER_SILENT | FAULT_FEED_OVERRUN;
  outbox.faults |= FAULT_CALIPER_NOISE | FAULT_CALIPER_DATA | FAULT_FEED_WINDOWS;
  outbox.buttons = 9;
  outbox.reading = (struct reading){5234, false, false};
  outbox.reading_waits = true;
  outbox.feed_valid = true;
  outbox.feed = -3;
  says(&outbox, "HI,0,7,1,0.1.0,bench-01,caliper+feed+button*");
  says(&outbox, "FA,1,7,watchdog*");
  says(&outbox, "FA,2,7,brownout*");
  says(&outbox, "FA,3,7,feed-windows*");
  says(&outbox, "FA,4,7,feed-overrun*");
  says(&outbox, "FA,5,7,caliper-silent*");
  says(&outbox, "FA,6,7,caliper-noise*");
  says(&outbox, "FA,7,7,caliper-data*");
  says(&outbox, "FA,8,7,caliper-back*");
  says(&outbox, "FA,9,7,caliper-frame*");
  says(&outbox, "PB,10,7,1,down*");
  says(&outbox, "PB,11,7,4,down*");
  says(&outbox, "DI,12,7,52.34,mm*");
  says(&outbox, "FE,13,7,-3*");
  CHECK(silent(&outbox));
  outbox.buttons = 8;
  says(&outbox, "PB,14,7,1,up*");
  CHECK(silent(&outbox));
}

/* Bits beyond the table are never sent, and never looked for without an end. */
static void test_unknown_fault(void) {
  struct outbox outbox;
  outbox_start(&outbox, &who, 0xFE00);
  says(&outbox, "HI,");
  CHECK(silent(&outbox));
}

static void test_feed_rhythm(void) {
  struct outbox outbox;
  outbox_start(&outbox, &who, 0);
  outbox.hello = false;
  CHECK(silent(&outbox)); /* no feed on this board */
  outbox.feed_valid = true;
  says(&outbox, "FE,0,7,0*");
  CHECK(silent(&outbox));
  for (unsigned n = 0; n < 9; n++) outbox_tick(&outbox, 100);
  outbox_tick(&outbox, 99);
  CHECK(silent(&outbox));
  outbox_tick(&outbox, 1);
  says(&outbox, "FE,1,7,0*");
  CHECK(silent(&outbox));
  outbox.feed = 1;
  says(&outbox, "FE,2,7,1*");
  CHECK(silent(&outbox));
  outbox.feed_valid = false;
  outbox.feed = 2;
  CHECK(silent(&outbox));
  outbox.feed_valid = true;
  says(&outbox, "FE,3,7,2*");
}

static void test_numbers_wrap(void) {
  struct outbox outbox;
  outbox_start(&outbox, &who, 0);
  outbox.seq = 65535;
  says(&outbox, "HI,65535,7,");
  outbox.hello = true;
  says(&outbox, "HI,0,7,");
}

/* A line that cannot be written takes no number: the program would count it as lost. */
static void test_broken(void) {
  static const struct identity bad = {"0.1.0", "bench,01", "caliper"};
  struct outbox outbox;
  outbox_start(&outbox, &bad, FAULT_BROWNOUT);
  CHECK(silent(&outbox));
  says(&outbox, "FA,0,7,brownout*");
}

void test_outbox(void) {
  test_order();
  test_unknown_fault();
  test_feed_rhythm();
  test_numbers_wrap();
  test_broken();
}
