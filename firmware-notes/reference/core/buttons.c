/* The button debouncer: a button is believed once it has kept still. */
#include "buttons.h"

void buttons_start(struct buttons *buttons, uint8_t pressed) { *buttons = (struct buttons){.held = pressed}; }

static uint8_t add_capped(uint8_t ms, uint8_t more) { return more > UINT8_MAX - ms ? UINT8_MAX : (uint8_t)(ms + more); }

void buttons_sample(struct buttons *buttons, uint8_t pressed, uint8_t elapsed_ms, uint8_t settle_ms) {
  buttons->held &= pressed;
  uint8_t unlike = (uint8_t)(pressed & ~buttons->held) ^ buttons->stable;
  for (uint8_t n = 0; n < BUTTONS_MAX; n++) {
    uint8_t bit = (uint8_t)(1u << n);
    if (!(unlike & bit)) {
      buttons->unlike_ms[n] = 0;
      continue;
    }
    buttons->unlike_ms[n] = add_capped(buttons->unlike_ms[n], elapsed_ms);
    if (buttons->unlike_ms[n] < settle_ms) continue;
    buttons->stable ^= bit;
    buttons->unlike_ms[n] = 0;
  }
}
