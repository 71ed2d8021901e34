/* The question: `?` LF, with or without a CR before the LF; every other line is passed over. */
#include "ask.h"

bool ask_byte(struct ask *ask, uint8_t byte) {
  enum ask_state was = ask->state;
  if (byte == '\n') {
    ask->state = ASK_START;
    return was == ASK_MARK || was == ASK_MARK_CR;
  }
  if (was == ASK_START && byte == '?') {
    ask->state = ASK_MARK;
  } else if (was == ASK_MARK && byte == '\r') {
    ask->state = ASK_MARK_CR;
  } else {
    ask->state = ASK_OTHER;
  }
  return false;
}
