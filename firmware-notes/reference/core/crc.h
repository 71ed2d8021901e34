/* CRC-16/IBM-3740: polynomial 0x1021, start 0xFFFF, no reflection, no final xor. */
#ifndef CRC_H
#define CRC_H

#include <stdint.h>

#define CRC_START 0xFFFFu

/* The crc after one more byte. */
uint16_t crc_step(uint16_t crc, uint8_t byte);

#endif
