// Tapered and oval bores and spigots: how much clearance that costs, and what it leaves in doubt.
import { type Length, mm } from '../units.ts';
import type { Part } from './pair.ts';

/** Two readings of one part that differ by less are called the same: no caliper in a bore tells them apart. Our own choice. */
const SAME_WITHIN = mm(0.02);
export const isSame = (one: Length, other: Length): boolean => Math.abs(one - other) < SAME_WITHIN;

/**
 * Two diameters an engaged length apart. `near` is at the bore's mouth, or at the spigot's shoulder: they meet when the lid is
 * closed. `far` is at the bore's depth, or at the spigot's end.
 */
export interface Along {
  readonly near: Length;
  readonly far: Length;
}

/** How much wider a part is at one of its ends; `by` is 0 where both are the same. */
export interface Taper {
  readonly by: Length;
  readonly widerAt: keyof Along;
}

export const taperOf = ({ near, far }: Along): Taper => ({
  by: mm(isSame(near, far) ? 0 : Math.abs(near - far)),
  widerAt: near > far ? 'near' : 'far',
});

/** What the tapers of both parts do to the clearance between mouth and shoulder; a part of which nothing is known is parallel. */
export interface PairTaper {
  /** Taken off it at the tightest place that the lid meets on its way to being closed. */
  readonly tightens: Length;
  /** Gained from the shoulder to the spigot's end in the closed lid; below zero where it is lost. */
  readonly gains: Length;
}

/** How much narrower a part is at its far end; nothing where both are the same. */
function narrowing(part: Along | null): number {
  if (!part) return 0;
  const { by, widerAt } = taperOf(part);
  return widerAt === 'near' ? by : -by;
}

/**
 * Screwed on, each width of the spigot meets those of the bore from its mouth to the place where it ends up. With both
 * parts straight-sided the tightest meeting is one of three: shoulder at mouth, end at mouth, end at depth (derived).
 */
export function pairTaper(bore: Along | null, spigot: Along | null): PairTaper {
  const widerEnd = -narrowing(spigot);
  const atDepth = widerEnd + narrowing(bore);
  return { tightens: mm(Math.max(0, widerEnd, atDepth)), gains: mm(-atDepth) };
}

/** An oval part from two diameters square to each other. */
export interface Ovality {
  /** Between the two: the least that its widest and its narrowest differ by. */
  readonly difference: Length;
  /** The two can't be told apart. */
  readonly round: boolean;
  readonly narrowest: Length;
  readonly widest: Length;
  /** What the unknown orientation leaves in doubt about either (standard). */
  readonly standard: Length;
}

/** Mean and deviation of |cos 2x| over all orientations x (derived: 2 / pi and sqrt(1/2 - 4 / pi^2)). */
const [FOUND, FOUND_SPREAD] = [2 / Math.PI, Math.sqrt(1 / 2 - 4 / Math.PI ** 2)];

/**
 * Widths are D + h cos 2x, so the mean of two that are square to each other is D whatever the orientation, and half their
 * difference is h |cos 2x|, which is 2/pi of h on average: h = (pi / 2) |a - b| / 2, known to 0.48 of itself (derived).
 */
export function ovalityOf(one: Length, square: Length): Ovality {
  const difference = Math.abs(one - square);
  const half = difference / 2 / FOUND;
  const middle = (one + square) / 2;
  return {
    difference: mm(difference),
    round: isSame(one, square),
    narrowest: mm(middle - half),
    widest: mm(middle + half),
    standard: mm((half * FOUND_SPREAD) / FOUND),
  };
}

/**
 * In the worst of all turns of the lid the narrowest width of the bore meets the widest of the spigot, and square to it the
 * widest of the bore the narrowest of the spigot (derived; wood/movement.ts has the same for wood that moves).
 */
export const tightestOf = (part: Part, { narrowest, widest }: Ovality): Length =>
  part === 'female' ? narrowest : widest;
