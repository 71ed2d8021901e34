/* The order of speech, the numbering of lines, and what waits for what. */
#include "check.h"
#include "talk.h"

#include <string.h>

static const struct identity who = {"0.1.0", "bench-01", "caliper+feed+button"};

static bool begins(const struct line *line, const char *text) { return strncmp(line->text, text, strlen(text)) == 0; }

static bool says(struct talk *talk, const char *text) {
  struct line line = {.length = 0};
  return CHECK_ROW(talk_next(talk, 7, &line), text) && CHECK_ROW(begins(&line, text), text);
}

static bool silent(struct talk *talk) {
  struct line line;
  return !talk_next(talk, 7, &line);
}

static void test_order(void) {
  struct talk talk;
  talk_start(&talk, &who, FAULT_WATCHDOG | FAULT_BROWNOUT);
  talk.faults |= FAULT_CALIPER_FRAME | FAULT_CALIPER_BACK | FAULT_CALIPER_SILENT | FAULT_FEED_OVERRUN;
  talk.buttons = 9;
  talk.reading = (struct reading){5234, false, false};
  talk.reading_waits = true;
  talk.feed_speaks = true;
  talk.feed = -3;
  says(&talk, "HI,0,7,1,0.1.0,bench-01,caliper+feed+button*");
  says(&talk, "FA,1,7,watchdog*");
  says(&talk, "FA,2,7,brownout*");
  says(&talk, "FA,3,7,feed-overrun*");
  says(&talk, "FA,4,7,caliper-silent*");
  says(&talk, "FA,5,7,caliper-back*");
  says(&talk, "FA,6,7,caliper-frame*");
  says(&talk, "PB,7,7,1,down*");
  says(&talk, "PB,8,7,4,down*");
  says(&talk, "DI,9,7,52.34,mm*");
  says(&talk, "FE,10,7,-3*");
  CHECK(silent(&talk));
  talk.buttons = 8;
  says(&talk, "PB,11,7,1,up*");
  CHECK(silent(&talk));
}

static void test_feed_rhythm(void) {
  struct talk talk;
  talk_start(&talk, &who, 0);
  talk.hello = false;
  CHECK(silent(&talk)); /* no feed on this board */
  talk.feed_speaks = true;
  says(&talk, "FE,0,7,0*");
  CHECK(silent(&talk));
  for (unsigned n = 0; n < 9; n++) talk_tick(&talk, 100);
  talk_tick(&talk, 99);
  CHECK(silent(&talk));
  talk_tick(&talk, 1);
  says(&talk, "FE,1,7,0*");
  CHECK(silent(&talk));
  talk.feed = 1;
  says(&talk, "FE,2,7,1*");
  CHECK(silent(&talk));
  talk.feed_speaks = false;
  talk.feed = 2;
  CHECK(silent(&talk));
  talk.feed_speaks = true;
  says(&talk, "FE,3,7,2*");
}

static void test_numbers_wrap(void) {
  struct talk talk;
  talk_start(&talk, &who, 0);
  talk.seq = 65535;
  says(&talk, "HI,65535,7,");
  talk.hello = true;
  says(&talk, "HI,0,7,");
}

/* A line that cannot be written takes no number: the program would count it as lost. */
static void test_broken(void) {
  static const struct identity bad = {"0.1.0", "bench,01", "caliper"};
  struct talk talk;
  talk_start(&talk, &bad, FAULT_BROWNOUT);
  CHECK(silent(&talk));
  says(&talk, "FA,0,7,brownout*");
}

void test_talk(void) {
  test_order();
  test_feed_rhythm();
  test_numbers_wrap();
  test_broken();
}
