// Corrections to what a caliper shows: its zero, and the lands of its inside jaws.
import { extentOf, spreadOf } from '../statistics.ts';
import { type Length, mm } from '../units.ts';
import type { Reading } from './reading.ts';

/** Within how many steps, and for how many readings, closed jaws must stay to be called steady; our own figures. */
export const ZERO_CHECK = { readings: 3, steps: 2 } as const;

/** Closed jaws show no more than this, zero error included; with more they are open. Our own figure. */
export const CLOSED_AT_MOST = mm(1);

export type ZeroCheck =
  | {
      readonly kind: 'steady';
      /** What the closed jaws show, to be taken off. */
      readonly error: Length;
      readonly spread: Length;
      /** Standard uncertainty of the error: its scatter and one step's rounding. */
      readonly standard: Length;
    }
  | { readonly kind: 'wandering'; readonly spread: Length; readonly allowed: Length }
  | { readonly kind: 'too-few'; readonly found: number; readonly needed: number };

/** The zero error from readings with the jaws closed: their mean, refused where they differ by more than two steps. */
export function checkZero(readings: readonly Reading[]): ZeroCheck {
  if (readings.length < ZERO_CHECK.readings)
    return { kind: 'too-few', found: readings.length, needed: ZERO_CHECK.readings };
  const values = readings.map((reading) => reading.value);
  const step = Math.max(...readings.map((reading) => reading.step));
  const spread = extentOf(values);
  const allowed = ZERO_CHECK.steps * step;
  if (spread > allowed * (1 + 1e-9)) return { kind: 'wandering', spread: mm(spread), allowed: mm(allowed) };
  const { count, mean: error, deviation } = spreadOf(values);
  // s^2/n + d^2/12 (JCGM 100:2008, 4.2.3 and F.2.2.1)
  const standard = Math.sqrt(deviation ** 2 / count + step ** 2 / 12);
  return { kind: 'steady', error: mm(error), spread: mm(spread), standard: mm(standard) };
}

/** What was shown, less what the closed jaws showed. */
export const zeroCorrected = (shown: Length, error: Length): Length => mm(shown - error);

/**
 * A bore measured by inside jaws with straight lands of this width: they touch at their corners and show the chord
 * sqrt(D^2 - w^2), so D = sqrt(d^2 + w^2) (derived). Only for bores.
 */
export const landCorrected = (shown: Length, land: Length): Length => mm(Math.hypot(shown, land));

export type JawLand =
  | { readonly kind: 'land'; readonly width: Length }
  | {
      readonly kind: 'no-land';
      readonly why: 'reads-high' | 'not-this-ring';
      readonly known: Length;
      readonly shown: Length;
    };

/** A ring may be shown this much smaller than it is, as a share of it, before it counts as another ring; our own figure. */
const SAME_RING = 0.1;

/** The width of the jaws' lands from a ring of known size: w = sqrt(D^2 - d^2). A ring shown larger than it is has no such w. */
export function jawLandFrom(known: Length, shown: Length): JawLand {
  if (!(Math.abs(known - shown) <= SAME_RING * known))
    return { kind: 'no-land', why: 'not-this-ring', known, shown };
  if (shown > known) return { kind: 'no-land', why: 'reads-high', known, shown };
  return { kind: 'land', width: mm(Math.sqrt((known - shown) * (known + shown))) };
}
