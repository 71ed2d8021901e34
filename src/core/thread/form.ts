// The form of a thread: its triangle, what the cutter's tip leaves of it, and the crest between two grooves.
import { type Angle, degrees, type Length, mm } from '../units.ts';

/** The end of the cutter: a true point, a flat of some width, or a nose of some radius. */
export type Tip =
  | { readonly kind: 'sharp' }
  | { readonly kind: 'flat'; readonly width: Length }
  | { readonly kind: 'radius'; readonly radius: Length };

/** tan(alpha/2): half the groove's width per depth. */
export const flankSlope = (angle: Angle): number => Math.tan(angle / 2);

/** The sharp triangle's height H = P / (2 tan(alpha/2)); 0.866025 P at 60 degrees (ISO 68-1 clause 5), 0.960491 P at 55 (BS 84). */
export const sharpHeight = (pitch: Length, angle: Angle): Length => mm(pitch / (2 * flankSlope(angle)));

/**
 * How far short of its sharp point a cutter ends: f / (2t) for a flat f, r (1/sin(alpha/2) - 1) for a nose r.
 * Derived; gives H/6 for the radius of BS 84 and H/4 for the P/4 flat of ISO 68-1.
 */
export function tipLoss(tip: Tip, angle: Angle): Length {
  switch (tip.kind) {
    case 'sharp':
      return mm(0);
    case 'flat':
      return mm(tip.width / (2 * flankSlope(angle)));
    case 'radius':
      return mm(tip.radius * (1 / Math.sin(angle / 2) - 1));
    default:
      return tip satisfies never;
  }
}

/** The height of the round part of a groove's bottom, below which the flank isn't straight yet: r (1 - sin(alpha/2)). */
export const roundHeight = (tip: Tip, angle: Angle): Length =>
  mm(tip.kind === 'radius' ? tip.radius * (1 - Math.sin(angle / 2)) : 0);

/**
 * Width of a groove at a height above its bottom: 2 t (height + a) on the flanks, the chord of the nose below them.
 * 0 at a height of 0 or less, where nothing is cut.
 */
export function grooveWidth(height: Length, tip: Tip, angle: Angle): Length {
  if (height <= 0) return mm(0);
  if (tip.kind === 'radius' && height < roundHeight(tip, angle))
    return mm(2 * Math.sqrt(height * (2 * tip.radius - height)));
  return mm(2 * flankSlope(angle) * (height + tipLoss(tip, angle)));
}

/** The height at which a groove is so wide: `grooveWidth` the other way; 0 for a width that the tip has from the start. */
export function grooveDepth(width: Length, tip: Tip, angle: Angle): Length {
  const half = width / 2;
  if (tip.kind === 'radius' && half < tip.radius * Math.cos(angle / 2))
    return mm(tip.radius - Math.sqrt(tip.radius ** 2 - Math.max(half, 0) ** 2));
  return mm(Math.max(0, half / flankSlope(angle) - tipLoss(tip, angle)));
}

/** The crest left between two grooves of this depth; zero or less when the depth has eaten it. `widening` is per flank. */
export const crestLeft = (pitch: Length, depth: Length, tip: Tip, angle: Angle, widening = mm(0)): Length =>
  mm(pitch - grooveWidth(depth, tip, angle) - 2 * widening);

/** How far one turn carries the lid: starts times pitch. */
export const lead = (pitch: Length, starts: number): Length => mm(starts * pitch);

/**
 * The form's own basic height, of which the engagement is a share: 2/3 H at 55 degrees (BS 84), otherwise
 * the basic 60-degree height 5/8 H = 0.541266 P (ISO 68-1 clause 5).
 */
export function basicHeight(pitch: Length, angle: Angle): Length {
  if (Math.abs(angle - degrees(55)) < 1e-9) return mm((2 / 3) * sharpHeight(pitch, angle));
  return mm((5 / 8) * sharpHeight(pitch, degrees(60)));
}
