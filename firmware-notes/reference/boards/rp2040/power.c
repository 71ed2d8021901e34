/* Clocks, sleep, watchdog, and why the chip restarted. */
#include "board.h"
#include "chip.h"

#define XOSC_ON 0x00FABAA0u
#define XOSC_STABLE (1u << 31)
#define XOSC_DELAY 47u /* 1 ms of a 12 MHz crystal, in steps of 256 */
#define FROM_XOSC 2u
#define PLL_LOCKED (1u << 31)
#define PLL_POWER_DOWN 0x21u /* the loop and its oscillator */
#define PLL_DIVIDERS_DOWN 0x08u
#define PLL_MULTIPLY 120u                       /* 12 MHz to 1,440 */
#define PLL_DIVIDE ((6u << 16) | (5u << 12))    /* and to 48 */
#define PERI_ON (1u << 11)
#define TICK_ON (1u << 9)
#define WATCHDOG_ON (1u << 30)
#define WATCHDOG_TIMED_OUT 1u
#define WATCHDOG_COUNTS (2u * 120000u) /* 120 ms; it counts two for each microsecond (data sheet, erratum E1) */
#define RESET_ALL_BUT_OSCILLATORS 0x0001FFFCu

volatile bool work_waits;

static void leave_reset(uint32_t parts) {
  CLEAR_BITS(RESETS_RESET) = parts;
  while ((REG(RESETS_DONE) & parts) != parts) {
  }
}

static void start_crystal(void) {
  REG(XOSC_STARTUP) = XOSC_DELAY;
  REG(XOSC_CTRL) = XOSC_ON;
  while (!(REG(XOSC_STATUS) & XOSC_STABLE)) {
  }
  REG(CLK_REF_CTRL) = FROM_XOSC;
  while (REG(CLK_REF_SELECTED) != 1u << FROM_XOSC) {
  }
}

static void start_loop(void) {
  leave_reset(RESET_PLL_SYS);
  REG(PLL_CS) = 1;
  REG(PLL_FBDIV) = PLL_MULTIPLY;
  CLEAR_BITS(PLL_PWR) = PLL_POWER_DOWN;
  while (!(REG(PLL_CS) & PLL_LOCKED)) {
  }
  REG(PLL_PRIM) = PLL_DIVIDE;
  CLEAR_BITS(PLL_PWR) = PLL_DIVIDERS_DOWN;
  REG(CLK_SYS_CTRL) = 1;
  while (REG(CLK_SYS_SELECTED) != 2u) {
  }
  REG(CLK_PERI_CTRL) = PERI_ON;
}

static uint32_t next_ms;
static volatile uint8_t milliseconds; /* wraps every 256 ms, which the watchdog keeps the main loop well below */

void timer_0_interrupt(void) {
  REG(TIMER_INTR) = 1u << 0;
  next_ms += 1000u;
  REG(TIMER_ALARM0) = next_ms;
  milliseconds++;
  work_waits = true;
}

void board_start(void) {
  start_crystal();
  start_loop();
  REG(WATCHDOG_TICK) = TICK_ON | (CRYSTAL_HZ / 1000000u);
  leave_reset(RESET_IO_BANK0 | RESET_PADS_BANK0 | RESET_TIMER | RESET_UART0);
  next_ms = REG(TIMER_NOW) + 1000u;
  REG(TIMER_INTE) = 1u << 0;
  REG(TIMER_ALARM0) = next_ms;
}

void board_run(void) {
  REG(NVIC_ENABLE) = (1u << IRQ_TIMER_0) | (1u << IRQ_TIMER_1) | (1u << IRQ_GPIO) | (1u << IRQ_UART0);
}

/* The chip can't tell a brown-out from power-on. */
uint16_t restart_faults(void) { return REG(WATCHDOG_REASON) & WATCHDOG_TIMED_OUT ? FAULT_WATCHDOG : 0; }

void watchdog_start(void) {
  REG(PSM_WDSEL) = RESET_ALL_BUT_OSCILLATORS;
  watchdog_feed();
  SET_BITS(WATCHDOG_CTRL) = WATCHDOG_ON;
}

void watchdog_feed(void) { REG(WATCHDOG_LOAD) = WATCHDOG_COUNTS; }

void work_taken(void) { work_waits = false; }

void wait_for_work(void) {
  while (!work_waits) __asm__ volatile("wfi");
}

tick_t time_now(void) { return time_now_in_interrupt(); }

uint8_t time_elapsed_ms(void) {
  static uint8_t seen;
  uint8_t now = milliseconds;
  uint8_t elapsed = (uint8_t)(now - seen);
  seen = now;
  return elapsed;
}
