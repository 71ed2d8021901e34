// The scales that drawings may have, and the bar that tells whether the printer kept them.
import type { LengthUnit } from '../core/units.ts';
import { MM_PER_INCH } from '../core/units.ts';
import { type Drawing, line, text } from './svg.ts';

/** Enlargements, full size and reductions of ISO 5455 (from memory), the largest first. */
const SCALES = [20, 10, 5, 2, 1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50] as const;

/** The largest scale at which a width and a height fit; undefined for what is larger than any of them allows. */
export const scaleFor = (width: number, height: number, room: Room): number | undefined =>
  SCALES.find((scale) => width * scale <= room.width && height * scale <= room.height);

export interface Room {
  readonly width: number;
  readonly height: number;
}

export const scaleWords = (scale: number): string =>
  scale >= 1 ? `${scale}:1` : `1:${Math.round(1 / scale)}`;

/** A bar of a round length, to lay a rule on. */
export function scaleBar(unit: LengthUnit): Drawing {
  const [length, words] = unit === 'mm' ? [50, '50 mm'] : [2 * MM_PER_INCH, '2 in'];
  const [left, y] = [1, 2];
  const steps = unit === 'mm' ? 5 : 4;
  const ticks = Array.from({ length: steps + 1 }, (_, at) => left + (length * at) / steps).map((x) =>
    line(x, y - 1, x, y + 1),
  );
  const content = line(left, y, left + length, y) + ticks.join('') + text(left + length + 2, y + 1, words);
  const alt = `A bar that measures ${words} when the sheet was printed at full size.`;
  return { width: length + 18, height: 4, title: 'scale bar', alt, content };
}
