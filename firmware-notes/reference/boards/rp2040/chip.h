/* The registers of the RP2040 that this board uses, and what its files share.
   Addresses and bits are those of the chip's public data sheet, from memory; those that the simulator of the tests
   models were read there too. */
#ifndef CHIP_H
#define CHIP_H

#include <stdbool.h>
#include <stdint.h>

#define REG(address) (*(volatile uint32_t *)(address))
#define CLEAR_BITS(address) REG((address) + 0x3000u) /* writing a bit here clears it, and no other */
#define SET_BITS(address) REG((address) + 0x2000u)

#define RESETS_RESET 0x4000C000u
#define RESETS_DONE 0x4000C008u
#define RESET_IO_BANK0 (1u << 5)
#define RESET_PADS_BANK0 (1u << 8)
#define RESET_PLL_SYS (1u << 12)
#define RESET_TIMER (1u << 21)
#define RESET_UART0 (1u << 22)

#define XOSC_CTRL 0x40024000u
#define XOSC_STATUS 0x40024004u
#define XOSC_STARTUP 0x4002400Cu
#define CLK_REF_CTRL 0x40008030u
#define CLK_REF_SELECTED 0x40008038u
#define CLK_SYS_CTRL 0x4000803Cu
#define CLK_SYS_SELECTED 0x40008044u
#define CLK_PERI_CTRL 0x40008048u
#define PLL_CS 0x40028000u
#define PLL_PWR 0x40028004u
#define PLL_FBDIV 0x40028008u
#define PLL_PRIM 0x4002800Cu

#define WATCHDOG_CTRL 0x40058000u
#define WATCHDOG_LOAD 0x40058004u
#define WATCHDOG_REASON 0x40058008u
#define WATCHDOG_TICK 0x4005802Cu
#define PSM_WDSEL 0x40010008u

#define TIMER_ALARM0 0x40054010u
#define TIMER_ALARM1 0x40054014u
#define TIMER_ARMED 0x40054020u
#define TIMER_NOW 0x40054028u
#define TIMER_INTR 0x40054034u
#define TIMER_INTE 0x40054038u

#define GPIO_CTRL(pin) (0x40014004u + 8u * (pin))
#define GPIO_INTR0 0x400140F0u
#define GPIO_INTE0 0x40014100u
#define GPIO_INTS0 0x40014120u
#define GPIO_EDGES(pin) (0xCu << (4u * (pin))) /* both edges of pins 0 to 7 in the registers above */
#define PAD(pin) (0x4001C004u + 4u * (pin))
#define PAD_INPUT 0x4Au /* input on, pull-up, Schmitt trigger */
#define FUNCTION_UART 2u
#define FUNCTION_SIO 5u
#define GPIO_IN 0xD0000004u

#define UART_DR 0x40034000u
#define UART_FR 0x40034018u
#define UART_IBRD 0x40034024u
#define UART_FBRD 0x40034028u
#define UART_LCR_H 0x4003402Cu
#define UART_CR 0x40034030u
#define UART_IMSC 0x40034038u
#define UART_MIS 0x40034040u
#define UART_ICR 0x40034044u
#define UART_RX (1u << 4)
#define UART_TX (1u << 5)

#define NVIC_ENABLE 0xE000E100u
#define IRQ_TIMER_0 0u
#define IRQ_TIMER_1 1u
#define IRQ_GPIO 13u
#define IRQ_UART0 20u

/* Pins. Those of caliper and feed must be 0 to 7, for the two interrupt registers above. */
#define PIN_CLOCK 2u
#define PIN_DATA 3u
#define PIN_FEED_A 4u
#define PIN_FEED_B 5u
#define PIN_BUTTON_1 6u

#define CRYSTAL_HZ 12000000u
#define SYSTEM_HZ 48000000u

/* Set by every interrupt that leaves the main loop something to do. */
extern volatile bool work_waits;

static inline uint16_t time_now_in_interrupt(void) { return (uint16_t)(REG(TIMER_NOW) / 4u); }

static inline void wake_main(void) { work_waits = true; }

static inline void make_input(uint32_t pin) {
  REG(PAD(pin)) = PAD_INPUT;
  REG(GPIO_CTRL(pin)) = FUNCTION_SIO;
}

/* The interrupts, all of one priority, so that none interrupts another. */
void timer_0_interrupt(void);
void timer_1_interrupt(void);
void gpio_interrupt(void);
void uart_interrupt(void);
void caliper_clock_interrupt(void);
void feed_interrupt(void);

#endif
