// Taper of a bore: from a reading at the mouth and one at depth, and what it does to the fit.
import { type Angle, type Length, mm, radians } from '../units.ts';

export interface Taper {
  /** Mouth less depth, on the diameter: above zero where the bore closes in. */
  readonly change: Length;
  /** Half the angle of the cone; null where the distance between the readings is not known. */
  readonly halfAngle: Angle | null;
}

/** The taper between two readings a known axial distance apart, or an unknown one (null). Distances of zero or less are unknown. */
export function taperOf(mouth: Length, depth: Length, apart: Length | null): Taper {
  const change = mm(mouth - depth);
  const known = apart !== null && apart > 0;
  return { change, halfAngle: known ? radians(Math.atan(change / 2 / apart)) : null };
}

/**
 * How much the clearance changes, on the diameter, from the mouth to the end of the engaged length: below zero where it
 * gets tighter. Without a known distance the readings' own difference is taken, as if they were an engagement apart.
 */
export function clearanceChange(taper: Taper, engaged: Length): Length {
  const over = taper.halfAngle === null ? taper.change : 2 * engaged * Math.tan(taper.halfAngle);
  return mm(-over);
}
