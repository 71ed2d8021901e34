/* The line writer: numbers at their limits, and everything it must refuse. */
#include "check.h"
#include "line.h"

#include <string.h>

static bool reads(const struct line *line, const char *text) {
  return line->length == strlen(text) && memcmp(line->text, text, line->length) == 0;
}

static void test_numbers(void) {
  struct line line;
  line_begin(&line, "FE", 0, 0);
  line_number(&line, INT32_MIN);
  line_number(&line, INT32_MAX);
  line_number(&line, 0);
  CHECK(line_end(&line));
  CHECK(strncmp(line.text, "FE,0,0,-2147483648,2147483647,0*", 32) == 0);
  line_begin(&line, "DI", 65535, UINT32_MAX);
  line_decimal(&line, false, 0, 2);
  line_decimal(&line, true, 0, 2);
  line_decimal(&line, true, 5, 4);
  line_decimal(&line, false, 100, 2);
  line_decimal(&line, false, UINT32_MAX, 4);
  CHECK(line_end(&line));
  CHECK(strncmp(line.text, "DI,65535,4294967295,0.00,0.00,-0.0005,1.00,429496.7295*", 55) == 0);
}

static void test_refusals(void) {
  static const char *const bad[] = {"a,b", "a*b", "a b", "a\nb", "a\rb", "a\x1b", "\x7f", "\x80", "\xff", "\t"};
  struct line line;
  for (unsigned n = 0; n < sizeof bad / sizeof bad[0]; n++) {
    line_begin(&line, "HI", 1, 2);
    line_text(&line, bad[n]);
    CHECK_ROW(!line_end(&line), bad[n]);
  }
  line_begin(&line, "HI", 1, 2);
  line_text(&line, "!~+-.");
  CHECK(line_end(&line) && strncmp(line.text, "HI,1,2,!~+-.*", 13) == 0);
}

/* 90 bytes of body make 96 with star, crc and LF; 91 are refused. */
static void test_length(void) {
  char text[120];
  struct line line;
  for (unsigned more = 0; more < 20; more++) {
    memset(text, 'x', sizeof text);
    text[79u + more] = 0;
    line_begin(&line, "TE", 11, 160);
    line_text(&line, text);
    bool fits = 9u + 1u + 79u + more <= 90u;
    CHECK(line_end(&line) == fits);
    CHECK(line.length <= LINE_SPACE);
    if (fits) CHECK(line.length == 95u + more && line.text[line.length - 1u] == '\n');
  }
}

void test_line(void) {
  struct line line;
  test_numbers();
  test_refusals();
  test_length();
  line_begin(&line, "FE", 4, 1000);
  line_number(&line, -3);
  CHECK(line_end(&line) && reads(&line, "FE,4,1000,-3*2857\n"));
}
