/* Frames as lists of edges, whole or damaged. */
#include "wave.h"

const struct frame_limits wave_limits = {.edge_min = TICKS(180),
                                         .gap_min = TICKS(550),
                                         .gap_max = TICKS(1000),
                                         .quiet = TICKS(4000),
                                         .group = 4,
                                         .even_tenths = 13,
                                         .sample_rising = true,
                                         .zero_bits = 0x600000,
                                         .longest_mm = 0xFFFFF,
                                         .longest_inch = 0xFFFFF};

struct wave wave_of(uint32_t bits, unsigned bit_us, unsigned gap_us, unsigned quiet_us) {
  struct wave wave = {.count = FRAME_BITS};
  for (unsigned n = 0; n < FRAME_BITS; n++) {
    wave.gap[n] = TICKS(n == 0 ? quiet_us : n % 4 == 0 ? gap_us : bit_us);
    wave.data[n] = (bits >> n) & 1u;
  }
  return wave;
}

void wave_drop(struct wave *wave, unsigned n) {
  tick_t gap = wave->gap[n];
  wave->count--;
  for (unsigned k = n; k < wave->count; k++) {
    wave->gap[k] = wave->gap[k + 1];
    wave->data[k] = wave->data[k + 1];
  }
  if (n < wave->count) wave->gap[n] = (tick_t)(wave->gap[n] + gap);
}

void wave_add(struct wave *wave, unsigned n, unsigned us, bool data) {
  for (unsigned k = wave->count; k > n + 1; k--) {
    wave->gap[k] = wave->gap[k - 1];
    wave->data[k] = wave->data[k - 1];
  }
  wave->gap[n + 1] = TICKS(us);
  wave->data[n + 1] = data;
  if (n + 1 < wave->count) wave->gap[n + 2] = (tick_t)(wave->gap[n + 2] - TICKS(us));
  wave->count++;
}

uint32_t wave_bits(uint32_t steps, bool negative, bool inch) {
  return steps | (negative ? 1ul << 20 : 0) | (inch ? 1ul << 23 : 0);
}
