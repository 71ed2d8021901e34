/* The buttons on GP6 to GP9, each closing to ground against the chip's own pull-up. */
#include "buttons.h"

#include "board.h"
#include "chip.h"
#include "facts.h"

#define MASK ((1u << BUTTON_COUNT) - 1u)

void buttons_pins_start(void) {
  for (uint32_t n = 0; n < BUTTON_COUNT; n++) make_input(PIN_BUTTON_1 + n);
}

uint8_t buttons_pressed(void) { return (uint8_t)(~REG(GPIO_IN) >> PIN_BUTTON_1) & MASK; }
