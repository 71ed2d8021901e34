/* CRC-16/IBM-3740, bit by bit: no table, since a line of 90 bytes has milliseconds to spare. */
#include "crc.h"

#include <stdbool.h>

uint16_t crc_step(uint16_t crc, uint8_t byte) {
  crc ^= (uint16_t)((uint16_t)byte << 8);
  for (uint8_t bit = 0; bit < 8; bit++) {
    bool carry = (crc & 0x8000u) != 0;
    crc = (uint16_t)(crc << 1);
    if (carry) crc ^= 0x1021u;
  }
  return crc;
}
