/* The crc against values published outside this project. */
#include "check.h"
#include "crc.h"

#include <stddef.h>
#include <stdint.h>

static uint16_t crc_of(const uint8_t *bytes, size_t count) {
  uint16_t crc = CRC_START;
  for (size_t n = 0; n < count; n++) crc = crc_step(crc, bytes[n]);
  return crc;
}

/* Source: catalogue of parametrised CRC algorithms, CRC-16/IBM-3740, check value and codewords (read). */
void test_crc(void) {
  CHECK(crc_of((const uint8_t *)"123456789", 9) == 0x29B1);
  CHECK(crc_of((const uint8_t[]){0x00, 0x00, 0x00, 0x00}, 4) == 0x84C0);
  CHECK(crc_of((const uint8_t[]){0x0F, 0xAA, 0x00, 0x55}, 4) == 0x2023);
  CHECK(crc_of((const uint8_t[]){0x00, 0xFF, 0x55, 0x11}, 4) == 0xB8F9);
  CHECK(crc_of(NULL, 0) == 0xFFFF);
}
