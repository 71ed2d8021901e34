/* The buttons on PC2 to PC5, each closing to ground against the chip's own pull-up. */
#include "buttons.h"

#include "board.h"
#include "facts.h"

#include <avr/io.h>

#define FIRST_PIN 2u
#define MASK ((1u << BUTTON_COUNT) - 1u)

void buttons_pins_start(void) { PORTC |= MASK << FIRST_PIN; }

uint8_t buttons_pressed(void) { return (uint8_t)(~PINC >> FIRST_PIN) & MASK; }
