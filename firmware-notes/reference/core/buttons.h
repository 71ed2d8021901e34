/* Debounces up to four buttons from samples taken every millisecond. */
#ifndef BUTTONS_H
#define BUTTONS_H

#include <stdint.h>

#define BUTTONS_MAX 4u

/* Bit n is button n + 1, 1 is pressed. */
struct buttons {
  uint8_t stable;
  uint8_t held;                    /* down since the start: a jammed foot switch is not a press */
  uint8_t unlike_ms[BUTTONS_MAX]; /* how long each has differed from `stable` without a break */
};

/* `pressed` is what is down at the start; it counts once it has been released. */
void buttons_start(struct buttons *buttons, uint8_t pressed);

/* One sample; a button changes once it has differed for `settle_ms` without a break. */
void buttons_sample(struct buttons *buttons, uint8_t pressed, uint8_t elapsed_ms, uint8_t settle_ms);

#endif
