// What the line shows against peaks that agree: a drift, a jump, no curve, or a swing that may never have crossed the diameter.
import { meanOf, medianOf, spreadOf } from '../statistics.ts';
import { type Length, mm } from '../units.ts';
import { type CaptureSettings, signOf } from './capture-settings.ts';
import { type Peak, standardOfPeak } from './peak.ts';

/** A hand or a caliper that makes peaks agree on a wrong size, with the evidence. */
export type Against =
  | { readonly kind: 'drifting'; readonly change: Length; readonly peaks: number }
  | { readonly kind: 'jumped'; readonly change: Length }
  | { readonly kind: 'no-curve' }
  | { readonly kind: 'held-off'; readonly height: Length };

/** An error of the diameter, in mm, that no capture should hide: our own choice, half of the clearance that runs well. */
const WRONG = 0.05;

/** The peaks that agree, and all of those nearby, both in order of time. */
export interface Peaks {
  readonly agreeing: readonly Peak[];
  readonly nearby: readonly Peak[];
}

export function againstOf(peaks: Peaks, settings: CaptureSettings, scale: number): Against | null {
  const { agreeing } = peaks;
  const drift = driftOf(peaks, settings, scale);
  if (drift || agreeing.length < settings.leastPeaks) return drift;
  return (
    jumpOf(peaks, settings, scale) ??
    (agreeing.filter((peak) => peak.isCurved).length * 2 < agreeing.length ? { kind: 'no-curve' } : null) ??
    heldOffOf(peaks, settings, scale)
  );
}

/**
 * How the values change from the first to the last, where at least this share of their pairs goes one way; else 0. By the median
 * slope of all pairs, which a few badly seated peaks don't move (after Theil and Sen; from memory).
 */
export function trendOf(values: readonly number[], share: number): number {
  let [rising, falling] = [0, 0];
  for (let i = 1; i < values.length; i++)
    for (let j = 0; j < i; j++) {
      const change = (values[i] ?? 0) - (values[j] ?? 0);
      if (change > 0) rising++;
      else if (change < 0) falling++;
    }
  const pairs = (values.length * (values.length - 1)) / 2;
  if (pairs === 0 || Math.max(rising, falling) < share * pairs) return 0;
  const slopes = values.flatMap((value, i) =>
    values.slice(0, i).map((before, j) => (value - before) / (i - j)),
  );
  return medianOf(slopes) * (values.length - 1);
}

/**
 * When peaks drift; our own choice: enough of them, placed within half the tolerance and less than twice the error that matters
 * from one that agrees, four pairs in five one way, and a change of this share of the tolerance.
 */
const DRIFT = { peaks: 5, placed: 0.5, pairs: 0.8, ofTolerance: 1 } as const;

function driftOf({ agreeing, nearby }: Peaks, { tolerance }: CaptureSettings, scale: number): Against | null {
  const level = agreeing[0]?.value ?? 0;
  const values = nearby
    .filter((peak) => standardOfPeak(peak, scale) <= DRIFT.placed * tolerance)
    .map((peak) => peak.value)
    .filter((value) => Math.abs(value - level) < 2 * WRONG);
  if (values.length < DRIFT.peaks) return null;
  const change = trendOf(values, DRIFT.pairs);
  return Math.abs(change) >= DRIFT.ofTolerance * tolerance
    ? { kind: 'drifting', change: mm(change), peaks: values.length }
    : null;
}

/** A jump is larger than this many times the tolerance, and than this many standard uncertainties of the peak; our own choice. */
const JUMP = { ofTolerance: 1.5, uncertainties: 3 } as const;

/**
 * A zero that slips leaves two levels, one after the other: peaks before those that agree, or after, are off their level. One
 * that is lower is more likely badly seated: two that agree must be, and most of them. Nothing but a slip makes one higher, if more than one reading is.
 */
function jumpOf(
  { agreeing, nearby }: Peaks,
  { side, tolerance }: CaptureSettings,
  scale: number,
): Against | null {
  const sign = signOf(side);
  const level = meanOf(agreeing.map((peak) => peak.value));
  const first = nearby.findIndex((peak) => agreeing.includes(peak));
  const last = nearby.findLastIndex((peak) => agreeing.includes(peak));
  for (const outer of [nearby.slice(0, first), nearby.slice(last + 1)]) {
    const offs = outer
      .filter(
        (peak) =>
          Math.abs(peak.value - level) >
            Math.max(JUMP.ofTolerance * tolerance, JUMP.uncertainties * standardOfPeak(peak, scale)) &&
          (sign * (peak.value - level) < 0 || sign * (peak.reached - level) > peak.alone),
      )
      .map((peak) => sign * (peak.value - level));
    const lower = offs.filter((off) => off < 0).sort((a, b) => a - b);
    const alike = lower.some((off, i) => i > 0 && off - (lower[i - 1] ?? off) <= tolerance);
    const jumps = offs.length > lower.length || (alike && 2 * lower.length > outer.length);
    if (jumps)
      return { kind: 'jumped', change: mm(sign * (outer[0] === nearby[0] ? -1 : 1) * medianOf(offs)) };
  }
  return null;
}

/** Even a practised hand, without a mark to aim at, turns back no more alike than by this share of its swing; our own choice. */
const ALIKE = 0.02;

/**
 * Jaws held off the diameter. Of a hand that turns back at e and at f > e off it, the peaks are wrong by E = 2 e^2/D and stand
 * h = 2 (f^2 - e^2)/D above the valleys, and where its turns vary by s, peaks vary by 4 e s/D and valleys by 4 f s/D: the peaks
 * by P = sqrt(E/(E + h)) of what the valleys do (derived). Where even the most alike of the peaks are no more alike than chance
 * makes peaks that vary so, for an E that matters, or where no peak stands that high, the hand may be such a one.
 */
function heldOffOf(
  { agreeing, nearby }: Peaks,
  { leastPeaks }: CaptureSettings,
  scale: number,
): Against | null {
  const heights = agreeing.map((peak) => peak.height);
  const tallest = Math.max(...heights);
  const valleys = nearby.slice(1).map(({ sides }, i) => Math.max(sides[0], nearby[i]?.sides[1] ?? sides[0]));
  const [near, far] = [Math.sqrt(WRONG), Math.sqrt(WRONG + medianOf(heights))];
  const seen = valleys.length > 1 ? spreadOf(valleys).deviation : 0;
  const varying = (Math.max(seen, 2 * ALIKE * far * (far - near)) * near) / far;
  const blur = meanOf(agreeing.map((peak) => standardOfPeak(peak, scale)));
  const values = nearby.map((peak) => peak.value).sort((a, b) => a - b);
  const isChance = !isRepeated(values, leastPeaks, blur, varying);
  return isChance || tallest < WRONG - 1e-9 ? { kind: 'held-off', height: mm(tallest) } : null;
}

/** Whether some of these sorted values, `least` or more, lie closer than chance would put one set of them. */
function isRepeated(values: readonly number[], least: number, blur: number, varying: number): boolean {
  for (let count = values.length; count >= least; count--)
    for (let low = 0; low + count <= values.length; low++) {
      const width = Math.hypot((values[low + count - 1] ?? 0) - (values[low] ?? 0), blur) / varying;
      if (setsExpected(values.length, count, width) <= 1) return true;
    }
  return false;
}

/**
 * How many sets of k of n normal values lie within `width` standard deviations: C(n, k) sqrt(k) (width/sqrt(2 pi))^(k - 1)
 * (derived: the integral of the k-th power of the density; for a small width).
 */
function setsExpected(n: number, k: number, width: number): number {
  let sets = Math.sqrt(k);
  for (let i = 0; i < k; i++) sets *= (n - i) / (k - i);
  return sets * (width / Math.sqrt(2 * Math.PI)) ** (k - 1);
}
