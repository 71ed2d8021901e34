// Bores and spigots that are not true, tapered or oval: how much of the clearance that takes, and what it leaves in doubt.
import { type Length, mm } from '../units.ts';
import type { Part } from './pair.ts';

/** Readings at mouth and depth that differ by less are called parallel: no caliper in a bore tells them apart. Our own choice. */
export const PARALLEL_WITHIN = mm(0.02);

export interface Taper {
  /** Mouth less depth, on the diameter: above zero where the bore closes in. */
  readonly change: Length;
  readonly parallel: boolean;
  /** What the clearance loses where the bore is narrowest, the bore being measured at its mouth; 0 where it widens. */
  readonly tightens: Length;
}

/**
 * The taper between two readings of a bore, taken as an engaged length apart: the spigot's end meets the inner diameter when
 * the lid is closed, so a bore that closes in takes its whole change off the clearance (derived).
 */
export function taperOf(mouth: Length, depth: Length): Taper {
  const change = mm(mouth - depth);
  const parallel = Math.abs(change) < PARALLEL_WITHIN;
  return { change, parallel, tightens: mm(parallel ? 0 : Math.max(change, 0)) };
}

/** One width of a part at its tightest, and what is left in doubt about it (standard). */
export interface TightestWidth {
  readonly width: Length;
  readonly standard: Length;
}

/** Mean and deviation of |cos 2x| over all orientations x (derived: 2 / pi and sqrt(1/2 - 4 / pi^2)). */
const [FOUND, FOUND_SPREAD] = [2 / Math.PI, Math.sqrt(1 / 2 - 4 / Math.PI ** 2)];

/**
 * An oval bore or spigot from two diameters square to each other. Widths are D + h cos 2x, so their mean is D whatever the
 * orientation, and half their difference is h |cos 2x|, which is 2/pi of h on average: h = (pi / 2) |a - b| / 2, known to
 * 0.48 of itself (derived). In the worst of all turns of the lid the narrowest width of the bore meets the widest of the
 * spigot: D - h on the one, D + h on the other (derived; wood/movement.ts has the same for wood that moves).
 */
export function tightestWidth(part: Part, one: Length, square: Length): TightestWidth {
  const half = Math.abs(one - square) / 2 / FOUND;
  const middle = (one + square) / 2;
  return {
    width: mm(part === 'female' ? middle - half : middle + half),
    standard: mm((half * FOUND_SPREAD) / FOUND),
  };
}
