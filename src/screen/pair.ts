// The section of a pair as Braille text: the female part solid, the male part hatched, the clearance empty between them.

import type { Pair } from '../core/thread/fit.ts';
import { partsAt, sectionOf } from '../core/thread/section.ts';
import { type Length, mm } from '../core/units.ts';
import { braille } from './braille.ts';

export interface PairPicture {
  readonly rows: readonly string[];
  /** What one dot is worth, both ways. */
  readonly perDot: Length;
}

const PITCHES = 2;

/** The two grooves of the section at this allowance, to scale, in at most `columns` by `rows` characters. */
export function pairPicture(pair: Pair, allowance: Length, columns: number, rows: number): PairPicture {
  const section = sectionOf(pair, allowance, PITCHES);
  const tall = section.to - section.from;
  const perDot = Math.max(section.length / (2 * columns), tall / (4 * rows));
  const across = Math.max(1, Math.floor(section.length / (2 * perDot)));
  const down = Math.max(1, Math.ceil(tall / (4 * perDot)));
  const parts = (x: number, y: number) =>
    partsAt(pair, allowance, {
      along: mm((x + 0.5) * perDot),
      out: mm(section.to - (y + 0.5) * perDot),
    });
  const edge = (x: number, y: number): boolean =>
    !parts(x, y - 1).male || !parts(x - 1, y).male || !parts(x + 1, y).male;
  const paint = (x: number, y: number): boolean => {
    const { female, male } = parts(x, y);
    return female || (male && ((x + y) % 3 === 0 || edge(x, y)));
  };
  return { rows: braille(across, down, paint), perDot: mm(perDot) };
}
