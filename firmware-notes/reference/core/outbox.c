/* The order of the lines. A fault goes before the reading or the total that it casts doubt on. */
#include "outbox.h"

#define PROTOCOL_VERSION 1

static const char *const fault_codes[] = {"watchdog",      "brownout",     "feed-windows", "feed-overrun", "caliper-silent",
                                          "caliper-noise", "caliper-data", "caliper-back", "caliper-frame"};
#define FAULT_COUNT (sizeof fault_codes / sizeof fault_codes[0])
#define FAULTS_KNOWN ((1u << FAULT_COUNT) - 1u)

void outbox_start(struct outbox *outbox, const struct identity *identity, uint16_t faults) {
  *outbox = (struct outbox){.identity = identity, .hello = true, .faults = faults};
}

void outbox_tick(struct outbox *outbox, uint8_t elapsed_ms) {
  outbox->feed_wait = outbox->feed_wait > elapsed_ms ? (uint16_t)(outbox->feed_wait - elapsed_ms) : 0;
}

static void write_hello(struct outbox *outbox, uint32_t ms, struct line *line) {
  line_begin(line, "HI", outbox->seq, ms);
  line_number(line, PROTOCOL_VERSION);
  line_text(line, outbox->identity->firmware);
  line_text(line, outbox->identity->board);
  line_text(line, outbox->identity->parts);
  outbox->hello = false;
}

/* The lowest bit that is set; `bits` must not be 0. */
static uint8_t lowest(uint16_t bits) {
  uint8_t n = 0;
  for (; !(bits & 1u); bits >>= 1) n++;
  return n;
}

static void write_fault(struct outbox *outbox, uint32_t ms, struct line *line) {
  uint8_t n = lowest(outbox->faults & FAULTS_KNOWN);
  line_begin(line, "FA", outbox->seq, ms);
  line_text(line, fault_codes[n]);
  outbox->faults &= (uint16_t)~(1u << n);
}

static void write_button(struct outbox *outbox, uint32_t ms, struct line *line) {
  uint8_t n = lowest(outbox->buttons ^ outbox->buttons_sent);
  uint8_t bit = (uint8_t)(1u << n);
  line_begin(line, "PB", outbox->seq, ms);
  line_number(line, n + 1);
  line_text(line, outbox->buttons & bit ? "down" : "up");
  outbox->buttons_sent ^= bit;
}

static void write_reading(struct outbox *outbox, uint32_t ms, struct line *line) {
  const struct reading *reading = &outbox->reading;
  line_begin(line, "DI", outbox->seq, ms);
  if (reading->inch) {
    line_decimal(line, reading->negative, reading->steps * 5u, 4);
  } else {
    line_decimal(line, reading->negative, reading->steps, 2);
  }
  line_text(line, reading->inch ? "in" : "mm");
  outbox->reading_waits = false;
}

static void write_feed(struct outbox *outbox, uint32_t ms, struct line *line) {
  line_begin(line, "FE", outbox->seq, ms);
  line_number(line, outbox->feed);
  outbox->feed_sent = outbox->feed;
  outbox->feed_wait = OUTBOX_FEED_MS;
}

bool outbox_next(struct outbox *outbox, uint32_t ms, struct line *line) {
  if (outbox->hello) {
    write_hello(outbox, ms, line);
  } else if (outbox->faults & FAULTS_KNOWN) {
    write_fault(outbox, ms, line);
  } else if (outbox->buttons != outbox->buttons_sent) {
    write_button(outbox, ms, line);
  } else if (outbox->reading_waits) {
    write_reading(outbox, ms, line);
  } else if (outbox->feed_valid && (outbox->feed != outbox->feed_sent || outbox->feed_wait == 0)) {
    write_feed(outbox, ms, line);
  } else {
    return false;
  }
  if (!line_end(line)) return false;
  outbox->seq++;
  return true;
}
