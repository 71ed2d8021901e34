// Benches at the moments a turner meets, made by the real rules, never by hand; and each as the frame that Ink makes of it: also
// bundled, as the program is.
import { renderToString } from 'ink';
import { Screen } from '../../src/screen/screen.tsx';
import { themeOf } from '../../src/screen/theme.ts';
import { ASIDES, CALIBRATIONS } from './moments/asides.ts';
import type { Moments } from './moments/begun.ts';
import { CHASING, THREADS } from './moments/cutting.ts';
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

export const SIZES = [
  { columns: 60, rows: 16 },
  { columns: 80, rows: 24 },
  { columns: 120, rows: 40 },
] as const;

/** Frames by moment, one for each size. */
export const galleryFrames = (): { readonly [moment: string]: readonly string[] } =>
  Object.fromEntries(
    Object.entries(GALLERY).map(([moment, make]) => {
      const bench = make();
      const frames = SIZES.map((size) => {
        const look = { ...size, glyphs: 'all', theme: themeOf('256') } as const;
        return renderToString(<Screen bench={bench} look={look} />, { columns: size.columns });
      });
      return [moment, frames];
    }),
  );
