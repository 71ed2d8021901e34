/* USART 0: sends one line at a time from its own buffer, and keeps the bytes that arrive. */
#include "board.h"
#include "chip.h"
#include "facts.h"

#include <avr/interrupt.h>
#include <avr/io.h>

#define BAUD_TOL 3 /* 115200 from 16 MHz comes out 2.1 % fast, which 8N1 bears */
#include <util/setbaud.h>

#define RECEIVED_SPACE 16u

/* Keeps the compiler from moving writes to the line past the flag that hands it over. */
#define FINISH_WRITES() __asm__ volatile("" ::: "memory")

/* Invariant: while `busy`, the line belongs to the interrupt; else to the main loop. */
static struct line line;
static volatile bool busy;
static volatile uint8_t sent;

static volatile uint8_t received[RECEIVED_SPACE];
static volatile uint8_t received_head;
static volatile uint8_t received_tail;

ISR(USART_UDRE_vect) {
  UDR0 = (uint8_t)line.text[sent++];
  if (sent < line.length) return;
  UCSR0B &= (uint8_t)~(1u << UDRIE0);
  busy = false;
  work_waits = true;
}

ISR(USART_RX_vect) {
  uint8_t byte = UDR0;
  uint8_t next = (uint8_t)((received_head + 1u) % RECEIVED_SPACE);
  if (next == received_tail) return;
  received[received_head] = byte;
  received_head = next;
  work_waits = true;
}

void serial_start(void) {
  UCSR0A = USE_2X ? 1u << U2X0 : 0; /* before the rate: some chips and simulators take both when the rate is written */
  UBRR0 = UBRR_VALUE;
  UCSR0C = (1u << UCSZ01) | (1u << UCSZ00);
  UCSR0B = (1u << RXCIE0) | (1u << RXEN0) | (1u << TXEN0);
}

bool serial_busy(void) {
  bool held = busy;
  FINISH_WRITES();
  return held;
}

struct line *serial_line(void) { return &line; }

void serial_send(void) {
  sent = 0;
  FINISH_WRITES();
  busy = true;
  UCSR0B |= 1u << UDRIE0;
}

void serial_drain(struct device *device) {
  while (received_tail != received_head) {
    device_byte(device, received[received_tail]);
    received_tail = (uint8_t)((received_tail + 1u) % RECEIVED_SPACE);
  }
}
