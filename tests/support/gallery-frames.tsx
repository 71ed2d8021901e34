// Every moment of the gallery as the frame that Ink makes of it, at three sizes: also bundled, as the program is.
import { renderToString } from 'ink';
import { Screen } from '../../src/screen/screen.tsx';
import { themeOf } from '../../src/screen/theme.ts';
import { GALLERY } from './gallery.ts';

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
