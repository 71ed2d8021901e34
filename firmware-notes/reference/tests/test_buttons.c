/* The button debouncer: when it believes, and what it ignores. */
#include "buttons.h"
#include "check.h"

static void press(struct buttons *buttons, uint8_t pressed, unsigned ms) {
  for (unsigned n = 0; n < ms; n++) buttons_sample(buttons, pressed, 1, 15);
}

void test_buttons(void) {
  struct buttons buttons;
  for (uint8_t n = 0; n < BUTTONS_MAX; n++) {
    uint8_t bit = (uint8_t)(1u << n);
    buttons_start(&buttons, 0);
    press(&buttons, bit, 14);
    CHECK(buttons.stable == 0);
    press(&buttons, 0, 1);
    press(&buttons, bit, 14);
    CHECK(buttons.stable == 0);
    press(&buttons, bit, 1);
    CHECK(buttons.stable == bit);
    press(&buttons, 0, 14);
    CHECK(buttons.stable == bit);
    press(&buttons, 0, 1);
    CHECK(buttons.stable == 0);
  }
  buttons_start(&buttons, 0);
  for (unsigned n = 0; n < 300; n++) press(&buttons, (uint8_t)((n & 1u) | 4u), 1);
  CHECK(buttons.stable == 4); /* button 1 chatters all the time and does not hold up button 3 */
  press(&buttons, 0, 40);
  CHECK(buttons.stable == 0);
  buttons_sample(&buttons, 9, 8, 15);
  CHECK(buttons.stable == 0);
  buttons_sample(&buttons, 9, 8, 15);
  CHECK(buttons.stable == 9);
  buttons_sample(&buttons, 9, 0, 15);
  CHECK(buttons.stable == 9);
  buttons_sample(&buttons, 0, 250, 255);
  buttons_sample(&buttons, 0, 250, 255);
  CHECK(buttons.stable == 0); /* the count is held at its top, not wrapped */
  buttons_start(&buttons, 5);
  press(&buttons, 5, 200);
  CHECK(buttons.stable == 0); /* down since the start is no press */
  press(&buttons, 7, 20);
  CHECK(buttons.stable == 2);
  press(&buttons, 4, 20);
  press(&buttons, 5, 20);
  CHECK(buttons.stable == 1); /* released and pressed again is one */
}
