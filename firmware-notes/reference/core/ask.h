/* Listens for the one line the program sends: a question mark and LF. */
#ifndef ASK_H
#define ASK_H

#include <stdbool.h>
#include <stdint.h>

enum ask_state { ASK_START, ASK_MARK, ASK_MARK_CR, ASK_OTHER };

struct ask {
  enum ask_state state;
};

/* Takes one byte; true when it ends the question. */
bool ask_byte(struct ask *ask, uint8_t byte);

#endif
