// Whether the tops move one way: a trend that their scatter does not explain.
import { mm } from '../units.ts';
import type { CaptureSettings } from './rocking-settings.ts';
import type { Top } from './rocking-top.ts';
import type { Doubt } from './rocking-verdict.ts';

/** Our own figures: enough tops, a change of this share of the tolerance, so many times its own standard deviation. */
export const DRIFT = { tops: 5, share: 0.75, sure: 5 } as const;

/** The drift of these tops (in order of time), if they drift: a straight line through them against their order. */
export function driftOf(tops: readonly Top[], settings: CaptureSettings): Doubt | null {
  if (tops.length < DRIFT.tops) return null;
  const middle = (tops.length - 1) / 2;
  const mean = tops.reduce((sum, top) => sum + top.value, 0) / tops.length;
  const squares = tops.reduce((sum, _, i) => sum + (i - middle) ** 2, 0);
  const slope = tops.reduce((sum, top, i) => sum + (i - middle) * (top.value - mean), 0) / squares;
  const left = tops.reduce((sum, top, i) => sum + (top.value - mean - slope * (i - middle)) ** 2, 0);
  const change = slope * (tops.length - 1);
  const large = Math.abs(change) >= DRIFT.share * settings.tolerance;
  const sure = slope ** 2 * squares * (tops.length - 2) >= DRIFT.sure ** 2 * left;
  return large && sure ? { kind: 'drifting', change: mm(change), tops: tops.length } : null;
}
