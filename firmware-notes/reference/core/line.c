/* The line writer: fixed space, refuses to write what the protocol does not allow. */
#include "line.h"

#include "crc.h"

static void put(struct line *line, char byte) {
  if (byte <= ' ' || byte > '~' || line->length >= LINE_BODY_MAX) {
    line->broken = true;
    return;
  }
  line->text[line->length++] = byte;
  line->crc = crc_step(line->crc, (uint8_t)byte);
}

static void put_digits(struct line *line, uint32_t value, uint8_t at_least) {
  char digit[10];
  uint8_t count = 0;
  do {
    digit[count++] = (char)('0' + value % 10u);
    value /= 10u;
  } while (value > 0 || count < at_least);
  while (count > 0) put(line, digit[--count]);
}

void line_begin(struct line *line, const char *kind, uint16_t seq, uint32_t ms) {
  line->length = 0;
  line->crc = CRC_START;
  line->broken = false;
  while (*kind) put(line, *kind++);
  put(line, ',');
  put_digits(line, seq, 1);
  put(line, ',');
  put_digits(line, ms, 1);
}

void line_text(struct line *line, const char *text) {
  put(line, ',');
  for (; *text; text++) {
    if (*text == ',' || *text == '*') line->broken = true;
    put(line, *text);
  }
}

void line_number(struct line *line, int32_t value) {
  put(line, ',');
  if (value < 0) put(line, '-');
  put_digits(line, value < 0 ? 0u - (uint32_t)value : (uint32_t)value, 1);
}

void line_decimal(struct line *line, bool negative, uint32_t value, uint8_t digits) {
  uint32_t unit = 1;
  for (uint8_t n = 0; n < digits; n++) unit *= 10u;
  put(line, ',');
  if (negative && value > 0) put(line, '-');
  put_digits(line, value / unit, 1);
  put(line, '.');
  put_digits(line, value % unit, digits);
}

bool line_end(struct line *line) {
  static const char hex[] = "0123456789ABCDEF";
  if (line->broken) return false;
  line->text[line->length++] = '*';
  for (uint8_t nibble = 4; nibble > 0; nibble--) {
    line->text[line->length++] = hex[(line->crc >> (4 * (nibble - 1))) & 0xF];
  }
  line->text[line->length++] = '\n';
  return true;
}
