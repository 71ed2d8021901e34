/* Writes one line of the bench line: KIND,SEQ,MS,fields...*CCCC and LF. */
#ifndef LINE_H
#define LINE_H

#include <stdbool.h>
#include <stdint.h>

#define LINE_SPACE 96u
#define LINE_BODY_MAX (LINE_SPACE - 6u) /* less the star, four digits and the LF */

struct line {
  char text[LINE_SPACE];
  uint8_t length;
  uint16_t crc;
  bool broken; /* it grew too long, or a byte outside the set was given */
};

/* Starts a line with its kind, sequence number and milliseconds. */
void line_begin(struct line *line, const char *kind, uint16_t seq, uint32_t ms);

/* Adds a comma and a text; a comma, a star, a space or a byte outside the set breaks the line. */
void line_text(struct line *line, const char *text);

/* Adds a comma and a whole number. */
void line_number(struct line *line, int32_t value);

/* Adds a comma and a value given as a count of its last decimal; a negative zero is written as zero. */
void line_decimal(struct line *line, bool negative, uint32_t value, uint8_t decimals);

/* Adds crc and LF; false when the line is broken, and then it must not be sent. */
bool line_end(struct line *line);

#endif
