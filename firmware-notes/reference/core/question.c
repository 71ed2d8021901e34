/* The question is `?` LF, with or without a CR before the LF; every other line is ignored. */
#include "question.h"

bool question_byte(struct question *question, uint8_t byte) {
  enum question_state was = question->state;
  if (byte == '\n') {
    question->state = QUESTION_START;
    return was == QUESTION_MARK || was == QUESTION_MARK_CR;
  }
  if (was == QUESTION_START && byte == '?') {
    question->state = QUESTION_MARK;
  } else if (was == QUESTION_MARK && byte == '\r') {
    question->state = QUESTION_MARK_CR;
  } else {
    question->state = QUESTION_OTHER;
  }
  return false;
}
