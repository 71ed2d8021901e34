/* Every golden line: produced byte for byte from the same facts, or refused for the reason written. */
#include "question.h"
#include "check.h"
#include "crc.h"
#include "settings.h"
#include "outbox.h"

#include <stdlib.h>
#include <string.h>

struct golden_good {
  const uint8_t *body;
  size_t length;
  const char *crc;
  bool from_board;
};

struct golden_refused {
  const uint8_t *line;
  size_t length;
  const char *why;
};

struct golden_asks {
  const uint8_t *bytes;
  size_t length;
  unsigned answers;
};

#include "golden.h"

#define ROWS(table) (sizeof table / sizeof table[0])
#define FIELDS_MAX 7

static void crc_text(const uint8_t *bytes, size_t count, char text[5]) {
  uint16_t crc = CRC_START;
  for (size_t n = 0; n < count; n++) crc = crc_step(crc, bytes[n]);
  snprintf(text, 5, "%04X", crc);
}

static unsigned split(char *body, char *field[FIELDS_MAX]) {
  unsigned count = 0;
  for (char *at = strtok(body, ","); at && count < FIELDS_MAX; at = strtok(NULL, ",")) field[count++] = at;
  return count;
}

/* The count of steps behind a value as shown. */
static struct reading reading_of(const char *value, const char *device) {
  struct reading reading = {0, value[0] == '-', strcmp(device, "in") == 0};
  unsigned long digits = 0;
  for (; *value; value++) {
    if (*value >= '0' && *value <= '9') digits = digits * 10u + (unsigned long)(*value - '0');
  }
  reading.steps = (uint32_t)(reading.inch ? digits / 5u : digits);
  return reading;
}

static void set_fault(struct outbox *outbox, const char *code) {
  static const char *const codes[] = {"watchdog",      "brownout",     "feed-windows", "feed-overrun", "caliper-silent",
                                      "caliper-noise", "caliper-data", "caliper-back", "caliper-frame"};
  for (unsigned n = 0; n < ROWS(codes); n++) {
    if (strcmp(code, codes[n]) == 0) outbox->faults = (uint16_t)(1u << n);
  }
}

static void set_button(struct outbox *outbox, const char *name, const char *edge) {
  uint8_t bit = (uint8_t)(1u << (name[0] - '1'));
  outbox->buttons = strcmp(edge, "down") == 0 ? bit : 0;
  outbox->buttons_sent = outbox->buttons ^ bit;
}

/* Gives the outbox the facts of one golden body. */
static void set(struct outbox *outbox, struct identity *who, char *field[FIELDS_MAX]) {
  outbox->hello = strcmp(field[0], "HI") == 0;
  outbox->seq = (uint16_t)strtoul(field[1], NULL, 10);
  if (outbox->hello) *who = (struct identity){field[4], field[5], field[6]};
  if (strcmp(field[0], "DI") == 0) {
    outbox->reading = reading_of(field[3], field[4]);
    outbox->reading_waits = true;
  }
  if (strcmp(field[0], "FE") == 0) {
    outbox->feed = (int32_t)strtol(field[3], NULL, 10);
    outbox->feed_valid = true;
  }
  if (strcmp(field[0], "PB") == 0) set_button(outbox, field[3], field[4]);
  if (strcmp(field[0], "FA") == 0) set_fault(outbox, field[3]);
}

static void produce(const struct golden_good *row) {
  char body[100], expected[110];
  char *field[FIELDS_MAX] = {0};
  struct identity who = {"", "", ""};
  struct outbox outbox;
  struct line line = {.length = 0};
  strcpy(body, (const char *)row->body);
  split(body, field);
  outbox_start(&outbox, &who, 0);
  set(&outbox, &who, field);
  snprintf(expected, sizeof expected, "%s*%s\n", (const char *)row->body, row->crc);
  CHECK_ROW(outbox_next(&outbox, (uint32_t)strtoul(field[2], NULL, 10), &line), expected);
  CHECK_ROW(line.length == strlen(expected) && memcmp(line.text, expected, line.length) == 0, expected);
}

static const char *verdict(const uint8_t *line, size_t length) {
  char crc[5];
  if (length > LINE_SPACE - 1u) return "too-long";
  for (size_t n = 0; n < length; n++) {
    if (line[n] < 0x20 || line[n] > 0x7E) return "bad-byte";
  }
  const uint8_t *star = memchr(line, '*', length);
  if (!star) return "no-crc";
  crc_text(line, (size_t)(star - line), crc);
  return strcmp((const char *)star + 1, crc) == 0 ? "fine" : "wrong-crc";
}

static void test_good(void) {
  for (size_t n = 0; n < ROWS(golden_good); n++) {
    char crc[5];
    crc_text(golden_good[n].body, golden_good[n].length, crc);
    CHECK_ROW(strcmp(crc, golden_good[n].crc) == 0, (const char *)golden_good[n].body);
    if (golden_good[n].from_board) produce(&golden_good[n]);
  }
}

/* Lines refused for a field have a right crc, so that the field alone can be the reason. */
static void test_refused(void) {
  for (size_t n = 0; n < ROWS(golden_refused); n++) {
    const struct golden_refused *row = &golden_refused[n];
    bool by_field = strcmp(row->why, "bad-field") == 0;
    CHECK_ROW(strcmp(verdict(row->line, row->length), by_field ? "fine" : row->why) == 0, (const char *)row->line);
    if (strcmp(row->why, "too-long") != 0 && strcmp(row->why, "bad-byte") != 0) continue;
    struct line line;
    line_begin(&line, (const char *)row->line, 0, 0);
    if (!memchr(row->line, 0, row->length)) CHECK_ROW(!line_end(&line), (const char *)row->line);
  }
}

static void test_asks(void) {
  for (size_t n = 0; n < ROWS(golden_asks); n++) {
    struct question question = {QUESTION_START};
    unsigned answers = 0;
    for (size_t k = 0; k < golden_asks[n].length; k++) answers += question_byte(&question, golden_asks[n].bytes[k]);
    CHECK_ROW(answers == golden_asks[n].answers, (const char *)golden_asks[n].bytes);
  }
}

void test_golden(void) {
  test_good();
  test_refused();
  test_asks();
}
