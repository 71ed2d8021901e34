/* Reads the one line that the program sends: a question mark and LF. */
#ifndef QUESTION_H
#define QUESTION_H

#include <stdbool.h>
#include <stdint.h>

enum question_state { QUESTION_START, QUESTION_MARK, QUESTION_MARK_CR, QUESTION_OTHER };

struct question {
  enum question_state state;
};

/* Takes one byte; true when it ends the question. */
bool question_byte(struct question *question, uint8_t byte);

#endif
