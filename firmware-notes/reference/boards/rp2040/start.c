/* From reset to main: copies the firmware from flash to memory. */
#include "chip.h"

#include <stddef.h>

extern uint32_t data_start[], data_end[], data_in_flash[], bss_start[], bss_end[], stack_top[];

int main(void);
void reset(void);
void fault(void);
void *memcpy(void *to, const void *from, size_t count);
void *memset(void *to, int value, size_t count);

/* The compiler calls these for large structs; written so that it doesn't turn them into calls of themselves. */
void *memcpy(void *to, const void *from, size_t count) {
  for (size_t n = 0; n < count; n++) ((volatile char *)to)[n] = ((const char *)from)[n];
  return to;
}

void *memset(void *to, int value, size_t count) {
  for (size_t n = 0; n < count; n++) ((volatile char *)to)[n] = (char)value;
  return to;
}

__attribute__((section(".reset"), noreturn)) void reset(void) {
  volatile uint32_t *from = data_in_flash;
  for (volatile uint32_t *to = data_start; to < data_end; to++) *to = *from++;
  for (volatile uint32_t *to = bss_start; to < bss_end; to++) *to = 0;
  main();
  for (;;) {
  }
}

/* Hangs, and the watchdog restarts the chip. */
void fault(void) {
  for (;;) {
  }
}

#define CORE_VECTORS 15u /* without the first, which is the stack */

struct vectors {
  void *stack;
  void (*handlers[CORE_VECTORS + IRQ_UART0 + 1u])(void);
};

__attribute__((section(".vectors"), used)) static const struct vectors vectors = {
    .stack = stack_top,
    .handlers = {[0] = reset,
                 [1] = fault,
                 [2] = fault,
                 [CORE_VECTORS + IRQ_TIMER_0] = timer_0_interrupt,
                 [CORE_VECTORS + IRQ_TIMER_1] = timer_1_interrupt,
                 [CORE_VECTORS + IRQ_GPIO] = gpio_interrupt,
                 [CORE_VECTORS + IRQ_UART0] = uart_interrupt},
};
