/* The line writer: it has fixed space, and refuses to write what the protocol does not allow. */
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

/* Writes a number with at least one digit before its `decimals`. By subtraction: the chip has no division. */
static void put_digits(struct line *line, uint32_t value, uint8_t decimals) {
  static const uint32_t power[] = {1000000000, 100000000, 10000000, 1000000, 100000, 10000, 1000, 100, 10, 1};
  bool begun = false;
  for (uint8_t n = 0; n < 10; n++) {
    char digit = '0';
    uint8_t after = (uint8_t)(9 - n); /* digits that follow */
    for (; value >= power[n]; value -= power[n]) digit++;
    begun = begun || digit != '0' || after == decimals;
    if (!begun) continue;
    put(line, digit);
    if (after == decimals && after > 0) put(line, '.');
  }
}

void line_begin(struct line *line, const char *kind, uint16_t seq, uint32_t ms) {
  line->length = 0;
  line->crc = CRC_START;
  line->broken = false;
  while (*kind) put(line, *kind++);
  put(line, ',');
  put_digits(line, seq, 0);
  put(line, ',');
  put_digits(line, ms, 0);
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
  put_digits(line, value < 0 ? 0u - (uint32_t)value : (uint32_t)value, 0);
}

void line_decimal(struct line *line, bool negative, uint32_t value, uint8_t decimals) {
  put(line, ',');
  if (negative && value > 0) put(line, '-');
  put_digits(line, value, decimals);
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
