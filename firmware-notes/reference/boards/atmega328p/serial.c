/* USART 0: sends one line at a time from its own buffer, and keeps the bytes that come in. */
#include "board.h"
#include "facts.h"

#include <avr/interrupt.h>
#include <avr/io.h>

#define BAUD_TOL 3 /* 115200 from 16 MHz comes out 2.1 % fast, which 8N1 bears */
#include <util/setbaud.h>

#define HEARD_SPACE 16u

/* Invariant: while `busy`, the line belongs to the interrupt; else to the main loop. */
static struct line line;
static volatile bool busy;
static volatile uint8_t sent;

static volatile uint8_t heard[HEARD_SPACE];
static volatile uint8_t heard_head;
static volatile uint8_t heard_tail;

ISR(USART_UDRE_vect) {
  UDR0 = (uint8_t)line.text[sent++];
  if (sent < line.length) return;
  UCSR0B &= (uint8_t)~(1u << UDRIE0);
  busy = false;
  work_waits = true;
}

ISR(USART_RX_vect) {
  uint8_t byte = UDR0;
  uint8_t next = (uint8_t)((heard_head + 1u) % HEARD_SPACE);
  if (next == heard_tail) return;
  heard[heard_head] = byte;
  heard_head = next;
  work_waits = true;
}

void serial_start(void) {
  UBRR0 = UBRR_VALUE;
  UCSR0A = USE_2X ? 1u << U2X0 : 0;
  UCSR0C = (1u << UCSZ01) | (1u << UCSZ00);
  UCSR0B = (1u << RXCIE0) | (1u << RXEN0) | (1u << TXEN0);
}

bool serial_busy(void) { return busy; }

struct line *serial_line(void) { return &line; }

void serial_send(void) {
  sent = 0;
  busy = true;
  UCSR0B |= 1u << UDRIE0;
}

void serial_drain(struct unit *unit) {
  while (heard_tail != heard_head) {
    unit_byte(unit, heard[heard_tail]);
    heard_tail = (uint8_t)((heard_tail + 1u) % HEARD_SPACE);
  }
}
