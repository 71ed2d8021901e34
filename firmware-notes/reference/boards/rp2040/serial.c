/* UART 0 on GP0 (out) and GP1 (in): sends one line at a time, and keeps the bytes that arrive. */
#include "board.h"
#include "chip.h"
#include "facts.h"

#define RECEIVED_SPACE 16u
#define EIGHT_BITS (3u << 5)
#define UART_ON 0x301u
#define SIXTY_FOURTHS (4u * SYSTEM_HZ / BAUD) /* the divider, in 64ths: SYSTEM_HZ / (16 * BAUD) */

/* Keeps the compiler from moving writes to the line past the flag that hands it over. */
#define FINISH_WRITES() __asm__ volatile("" ::: "memory")

/* Invariant: while `busy`, the line belongs to the interrupt; else to the main loop. */
static struct line line;
static volatile bool busy;
static volatile uint8_t sent;

static volatile uint8_t received[RECEIVED_SPACE];
static volatile uint8_t received_head;
static volatile uint8_t received_tail;

static void send_next(void) {
  if (sent < line.length) {
    REG(UART_DR) = (uint8_t)line.text[sent];
    sent = (uint8_t)(sent + 1u);
    return;
  }
  CLEAR_BITS(UART_IMSC) = UART_TX;
  busy = false;
  work_waits = true;
}

static void keep(uint8_t byte) {
  uint8_t next = (uint8_t)((received_head + 1u) % RECEIVED_SPACE);
  if (next == received_tail) return;
  received[received_head] = byte;
  received_head = next;
  work_waits = true;
}

void uart_interrupt(void) {
  uint32_t why = REG(UART_MIS);
  if (why & UART_RX) keep((uint8_t)REG(UART_DR));
  if (why & UART_TX) {
    REG(UART_ICR) = UART_TX;
    send_next();
  }
}

void serial_start(void) {
  REG(GPIO_CTRL(0u)) = FUNCTION_UART;
  REG(PAD(1u)) = PAD_INPUT;
  REG(GPIO_CTRL(1u)) = FUNCTION_UART;
  REG(UART_IBRD) = SIXTY_FOURTHS / 64u;
  REG(UART_FBRD) = SIXTY_FOURTHS % 64u;
  REG(UART_LCR_H) = EIGHT_BITS;
  REG(UART_CR) = UART_ON;
  REG(UART_IMSC) = UART_RX;
}

bool serial_busy(void) {
  bool held = busy;
  FINISH_WRITES();
  return held;
}

struct line *serial_line(void) { return &line; }

/* The port interrupts when its one byte has left, so the first is written here. */
void serial_send(void) {
  sent = 1;
  FINISH_WRITES();
  busy = true;
  REG(UART_DR) = (uint8_t)line.text[0];
  SET_BITS(UART_IMSC) = UART_TX;
}

void serial_drain(struct device *device) {
  while (received_tail != received_head) {
    device_byte(device, received[received_tail]);
    received_tail = (uint8_t)((received_tail + 1u) % RECEIVED_SPACE);
  }
}
