// The groove that a disc cutter leaves, a little wider than its own profile, since its plane does not follow the helix.
import { type Angle, type Length, mm } from '../units.ts';
import { flankSlope, lead } from './form.ts';
import type { Part } from './pair.ts';

/** A disc cutter, its axis parallel to the work's, cutting a thread into a surface. */
export interface Disc {
  readonly part: Part;
  /** The diameter that is threaded: the bore, or the spigot. */
  readonly surface: Length;
  readonly cutter: Length;
  readonly depth: Length;
  readonly pitch: Length;
  readonly starts: number;
  readonly angle: Angle;
}

/** A cutter's diameter over this share of the bore is warned of; our own choice: a 25 mm cutter in a bore of 30 mm widens each flank by 0.012 mm. */
export const mostOfBore = 2 / 3;

/** Distance between the two axes when the groove is at its depth. */
const axes = (disc: Disc): number => {
  const [surface, cutter] = [disc.surface / 2, disc.cutter / 2];
  return disc.part === 'female' ? surface + disc.depth - cutter : surface - disc.depth + cutter;
};

/** Distance from the cutter's axis to a point at radius r, theta round from the line of axes (the cosine rule). */
const fromCutter = (r: number, e: number, theta: number): number =>
  Math.sqrt(Math.max(r * r + e * e - 2 * r * e * Math.cos(theta), 0));

/**
 * Extra half-width of the groove at radius r (derived): as the work turns by theta the helix has moved on by
 * lead x theta / 2 pi, so the flank meets max over theta of t (Rc - rho) + lead x theta / 2 pi, less the nominal
 * t (Rc - rho at theta 0). The maximum lies where t r e sin(theta) / rho = lead / 2 pi, or at the cutter's rim.
 */
export function extraHalfWidth(disc: Disc, r: Length): Length {
  const [t, e, rim] = [flankSlope(disc.angle), axes(disc), disc.cutter / 2];
  const perTurn = lead(disc.pitch, disc.starts) / (2 * Math.PI);
  const edge = Math.acos(Math.min(1, Math.max(-1, (r * r + e * e - rim * rim) / (2 * r * e))));
  const climbs = (theta: number): boolean => t * r * e * Math.sin(theta) < perTurn * fromCutter(r, e, theta);
  let [from, to] = [0, Math.min(edge, Math.PI / 2)];
  for (let halvings = 0; halvings < 60; halvings++) {
    const middle = (from + to) / 2;
    if (climbs(middle)) from = middle;
    else to = middle;
  }
  const gained = t * (fromCutter(r, e, 0) - fromCutter(r, e, from)) + perTurn * from;
  return mm(Math.max(gained, 0));
}

/** Whether such a disc cuts such a groove: everything has a size, the cutter goes into the bore, and a spigot is left under the thread. */
function isPossible(disc: Disc): boolean {
  const { part, surface, cutter, depth, pitch, starts, angle } = disc;
  if (![surface, cutter, depth, pitch, starts, angle].every((of) => of > 0 && Number.isFinite(of)))
    return false;
  return part === 'female' ? cutter < surface : depth < surface / 2;
}

/** What milling needs to know of a job's setup. */
export interface MillingSetup {
  readonly pitch: { readonly length: Length };
  readonly starts: number;
  readonly cutter: { readonly angle: Angle; readonly diameter?: Length };
}

/**
 * The widening per flank, at the surface, for a setup's cutter on a part: none without a disc, and none where it is not possible,
 * since a cutter that does not enter cuts nothing; `plan` and `fit` say that it does not.
 */
export function wideningOf(setup: MillingSetup, part: Part, surface: Length, depth: Length): Length {
  const { diameter: cutter, angle } = setup.cutter;
  if (cutter === undefined) return mm(0);
  const { pitch, starts } = setup;
  const disc = { part, surface, cutter, depth, pitch: pitch.length, starts, angle };
  return isPossible(disc) ? extraHalfWidth(disc, mm(surface / 2)) : mm(0);
}
