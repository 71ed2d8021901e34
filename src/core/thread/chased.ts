// Threads chased by hand: the depth by a crest's flat, the depth by counted strokes, and how far out each may be.
import { type Length, mm } from '../units.ts';
import { grooveDepth } from './form.ts';
import type { WantedForm } from './passes.ts';

/**
 * What shows a depth without a feed (derived from form.ts). Grooves a pitch P apart, of any number of starts, leave of the
 * surface they were cut from a flat w = P - 2 t (h + a). So h = (P - w) / (2 t) - a below that crest, and what the eye misses of
 * w is missed by 1 / (2 t) of it in h: 0.87 of it at 60 degrees.
 *
 * The diameter over the crests shows no depth. While a flat of the turned surface is left, it measures what it measured before.
 * Once neighbouring grooves meet, or the chaser's own roots reach the crest, each further cut takes its depth off the crest too:
 * the diameter tells how much crest is gone, and only the flat that is left tells how deep the groove is below it. The fit asks for
 * just these two of either part: the diameter over the crests as they are (limits.ts), and the depth below them.
 *
 * None of this tells of a chaser that leaned (flanks of two slopes), of strokes that did not track (a groove wider than its tooth),
 * or of crests that are torn or carry a burr.
 */
export interface KnownDepth {
  readonly depth: Length;
  /** It lies within plus or minus this, anywhere alike. */
  readonly within: Length;
}

/** A flat judged against a rule, under a lens: within plus or minus this; our own choice. */
export const FLAT_BY_EYE = mm(0.1);

/** The depth of a groove that leaves this flat; null where such a flat means that nothing is cut yet. */
export function depthFromFlat({ pitch, angle, tip }: WantedForm, flat: Length): KnownDepth | null {
  const depthAt = (left: number): number => grooveDepth(mm(pitch - left), tip, angle);
  if (flat < 0 || depthAt(flat) <= 0) return null;
  // A flat that looks like none may still be as wide as the eye misses.
  const [deepest, shallowest] = [depthAt(Math.max(0, flat - FLAT_BY_EYE)), depthAt(flat + FLAT_BY_EYE)];
  return { depth: mm((deepest + shallowest) / 2), within: mm((deepest - shallowest) / 2) };
}

/** A flat no wider than the eye may miss: the crest may be a point, and its diameter another than before. */
export const isPointed = (flat: Length): boolean => flat <= FLAT_BY_EYE;

/** A depth measured after a number of strokes, each of them counted. */
export interface MeasuredStrokes extends KnownDepth {
  readonly strokes: number;
}

/** A stroke takes its mean depth, give or take this share of it; our own choice. */
const STROKE_SPREAD = 0.5;

/**
 * The depth after more strokes at the same pressure, h = h1 n / n1. The flat's doubt grows in the same measure; k further strokes add
 * their own, each apart from the others, so by the root of k (derived). A groove that widens takes less at each stroke: it is
 * rather shallower than this.
 */
export function depthAfter({ strokes, depth, within }: MeasuredStrokes, now: number): KnownDepth {
  const each = depth / strokes;
  const more = now - strokes;
  return {
    depth: mm(depth + each * more),
    within: mm((within * now) / strokes + STROKE_SPREAD * each * Math.sqrt(more)),
  };
}

export interface StrokesLeft {
  readonly about: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Strokes to a depth H at the same pressure: n1 (H / h1 - 1), less those made since, from the deepest to the shallowest that the
 * measured depth may be (derived). Null where it may be nothing at all, or was reached without counting.
 */
export function strokesLeft(
  { strokes, depth, within }: MeasuredStrokes,
  now: number,
  planned: Length,
): StrokesLeft | null {
  if (strokes === 0 || depth <= within) return null;
  const leftFrom = (measured: number): number => Math.max(0, strokes * (planned / measured) - now);
  return {
    about: Math.ceil(leftFrom(depth)),
    from: Math.floor(leftFrom(depth + within)),
    to: Math.ceil(leftFrom(depth - within)),
  };
}
