/* The order of speech. A fault goes before the reading or total that it casts doubt on. */
#include "talk.h"

void talk_start(struct talk *talk, const struct identity *who, uint8_t faults) {
  *talk = (struct talk){.who = who, .hello = true, .faults = faults};
}

void talk_tick(struct talk *talk, uint8_t elapsed_ms) {
  talk->feed_wait = talk->feed_wait > elapsed_ms ? (uint16_t)(talk->feed_wait - elapsed_ms) : 0;
}

static void say_hello(struct talk *talk, uint32_t ms, struct line *line) {
  line_begin(line, "HI", talk->seq, ms);
  line_number(line, 1);
  line_text(line, talk->who->firmware);
  line_text(line, talk->who->board);
  line_text(line, talk->who->parts);
  talk->hello = false;
}

static void say_fault(struct talk *talk, uint32_t ms, struct line *line) {
  static const char *const code[] = {"watchdog",    "brownout", "feed-overrun", "caliper-silent", "caliper-back",
                                     "caliper-frame"};
  uint8_t n = 0;
  while (!(talk->faults & (1u << n))) n++;
  line_begin(line, "FA", talk->seq, ms);
  line_text(line, code[n]);
  talk->faults &= (uint8_t)~(1u << n);
}

static void say_button(struct talk *talk, uint32_t ms, struct line *line) {
  uint8_t n = 0;
  while (!((talk->buttons ^ talk->buttons_told) & (1u << n))) n++;
  line_begin(line, "PB", talk->seq, ms);
  line_number(line, n + 1);
  line_text(line, talk->buttons & (1u << n) ? "down" : "up");
  talk->buttons_told ^= (uint8_t)(1u << n);
}

static void say_reading(struct talk *talk, uint32_t ms, struct line *line) {
  const struct reading *reading = &talk->reading;
  line_begin(line, "DI", talk->seq, ms);
  if (reading->inch) {
    line_decimal(line, reading->negative, reading->steps * 5u, 4);
  } else {
    line_decimal(line, reading->negative, reading->steps, 2);
  }
  line_text(line, reading->inch ? "in" : "mm");
  talk->reading_waits = false;
}

static void say_feed(struct talk *talk, uint32_t ms, struct line *line) {
  line_begin(line, "FE", talk->seq, ms);
  line_number(line, talk->feed);
  talk->feed_told = talk->feed;
  talk->feed_wait = TALK_FEED_MS;
}

bool talk_next(struct talk *talk, uint32_t ms, struct line *line) {
  if (talk->hello) {
    say_hello(talk, ms, line);
  } else if (talk->faults) {
    say_fault(talk, ms, line);
  } else if (talk->buttons != talk->buttons_told) {
    say_button(talk, ms, line);
  } else if (talk->reading_waits) {
    say_reading(talk, ms, line);
  } else if (talk->feed_speaks && (talk->feed != talk->feed_told || talk->feed_wait == 0)) {
    say_feed(talk, ms, line);
  } else {
    return false;
  }
  if (!line_end(line)) return false;
  talk->seq++;
  return true;
}
