/* The first 256 bytes of flash: the chip's own boot code checks their sum, copies them to memory and jumps to them.
   They make flash readable in place with the read command that every serial flash knows (03), and start the firmware.
   Registers of the SSI from the chip's public data sheet, from memory; never run on a real chip. */
  .cpu cortex-m0plus
  .thumb
  .syntax unified
  .section .boot2, "ax"
  .global boot2
  .thumb_func
boot2:
  ldr r3, =0x18000000      /* SSI */
  movs r0, #0
  str r0, [r3, #0x08]      /* off while it is set up */
  movs r0, #4
  str r0, [r3, #0x14]      /* a quarter of the system clock */
  ldr r0, =0x001F0300      /* 32 bits of data, read through a command */
  str r0, [r3, #0x00]
  ldr r0, =0x03000218      /* command 03, 8 bits of command, 24 of address */
  ldr r1, =0x180000F4
  str r0, [r1]
  movs r0, #0
  str r0, [r3, #0x04]
  movs r0, #1
  str r0, [r3, #0x08]
  ldr r0, =0x10000100      /* the vectors, right after these 256 bytes */
  ldr r1, =0xE000ED08
  str r0, [r1]
  ldmia r0!, {r1, r2}
  msr msp, r1
  bx r2
  .ltorg
