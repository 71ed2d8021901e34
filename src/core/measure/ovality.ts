// Ovality from two captures of one bore or spigot, the caliper turned by a quarter between them.
import { type Length, mm } from '../units.ts';
import type { Steady } from './agreement.ts';
import { coverageFactor } from './student.ts';
import { standardOf } from './uncertainty.ts';

export interface Ovality {
  /** Of all orientations, whichever two were measured; and its standard uncertainty. */
  readonly mean: Length;
  readonly meanStandard: Length;
  /** Longer less shorter of the two diameters: the least that the longest and the shortest of all differ by. */
  readonly apparent: Length;
  readonly apparentStandard: Length;
  readonly degreesOfFreedom: number;
  /** Whether the two differ by more than their 95 % uncertainty explains. */
  readonly isOval: boolean;
}

/**
 * Diameters of an oval are D + h cos 2x, so two that are a quarter turn apart have D for their mean whatever x, and 2 h |cos 2x|
 * between them: nothing where both lie halfway between longest and shortest (derived). A caliper rocked in one orientation
 * agrees on that one; it cannot show ovality.
 */
export function ovalityOf(one: Steady, square: Steady): Ovality {
  const { standard, degreesOfFreedom } = standardOf(
    [one, square].map(({ standardUncertainty, degreesOfFreedom: freedom }, i) => ({
      name: i === 0 ? 'one way' : 'square to it',
      standard: standardUncertainty,
      sensitivity: 1,
      degreesOfFreedom: freedom,
    })),
  );
  const apparent = Math.abs(one.diameter - square.diameter);
  return {
    mean: mm((one.diameter + square.diameter) / 2),
    meanStandard: mm(standard / 2),
    apparent: mm(apparent),
    apparentStandard: mm(standard),
    degreesOfFreedom,
    isOval: apparent > coverageFactor(0.95, degreesOfFreedom) * standard,
  };
}
