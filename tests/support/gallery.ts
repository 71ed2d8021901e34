// Benches at the moments a turner meets, for pictures of the screen: made by the real rules, never by hand.
import { ASIDES, CALIBRATIONS } from './moments/asides.ts';
import type { Moments } from './moments/begun.ts';
import { CHASING } from './moments/chasing.ts';
import { THREADS } from './moments/cutting.ts';
import { LINE } from './moments/line.ts';
import { BORE_SIZE, PRACTICE, SPIGOT, ZERO_AND_HOLLOW } from './moments/measuring.ts';
import { RECORD, TRIAL } from './moments/trying.ts';

/** Every moment by name. */
export const GALLERY: Moments = {
  ...ASIDES,
  ...ZERO_AND_HOLLOW,
  ...THREADS,
  ...CHASING,
  ...BORE_SIZE,
  ...PRACTICE,
  ...SPIGOT,
  ...TRIAL,
  ...RECORD,
  ...CALIBRATIONS,
  ...LINE,
};
