// What the line shows against peaks that agree: a drift, a jump, no curve, a swing that may never have crossed the diameter, a low first peak.
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

/** The peaks that agree, and all of those nearby, both in order of time, and what they are judged by. */
export interface Peaks {
  readonly agreeing: readonly Peak[];
  readonly nearby: readonly Peak[];
  readonly settings: CaptureSettings;
  readonly scale: number;
}

export function againstOf(peaks: Peaks): Against | null {
  const { agreeing, settings } = peaks;
  const drift = driftOf(peaks);
  if (drift || agreeing.length < settings.leastPeaks) return drift;
  const isCurved = agreeing.filter((peak) => peak.isCurved).length * 2 >= agreeing.length;
  return jumpOf(peaks) ?? (isCurved ? heldOffOf(peaks) : { kind: 'no-curve' });
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
 * When peaks drift: enough of them, placed within half the tolerance, less than twice the error that matters from one that agrees and
 * not lower than both beside them by more than the tolerance, which is a bad seat; four pairs in five one way, and a change of this share of
 * the tolerance. Our own choice: of 4,000 simulated captures each this refuses 0.07 % more of clean ones, 0.3 % of pulled ones and
 * 0.4 % of oval ones than five of all peaks, and keeps 4 wrong by a drift and not 14.
 */
const DRIFT = { peaks: 4, placed: 0.5, pairs: 0.8, ofTolerance: 1 } as const;

function driftOf({ agreeing, nearby, settings: { side, tolerance }, scale }: Peaks): Against | null {
  const level = agreeing[0]?.value ?? 0;
  const values = nearby
    .filter((peak) => standardOfPeak(peak, scale) <= DRIFT.placed * tolerance)
    .map((peak) => peak.value)
    .filter((value) => Math.abs(value - level) < 2 * WRONG)
    .filter((value, i, all) =>
      [all[i - 1], all[i + 1]].some(
        (beside) => beside !== undefined && signOf(side) * (beside - value) <= tolerance,
      ),
    );
  if (values.length < DRIFT.peaks) return null;
  const change = trendOf(values, DRIFT.pairs);
  return Math.abs(change) >= DRIFT.ofTolerance * tolerance
    ? { kind: 'drifting', change: mm(change), peaks: values.length }
    : null;
}

/** Off the level is farther than this many times the tolerance, and than this many standard uncertainties of the peak; our own choice. */
const OFF = { ofTolerance: 1.5, uncertainties: 3 } as const;

/** Whether a peak is off the level of those that agree. */
const isOff = (peak: Peak, level: number, { settings, scale }: Peaks): boolean =>
  Math.abs(peak.value - level) >
  Math.max(OFF.ofTolerance * settings.tolerance, OFF.uncertainties * standardOfPeak(peak, scale));

/**
 * A zero that slips leaves two levels, one after the other: peaks before those that agree, or after, are off their level. Nothing but
 * a slip makes one higher, if more than one reading is. One that is lower is more likely badly seated: two must be, and most of them,
 * and two after must agree, since the hand tires and leaves. Our own choice: of 4,000 simulated captures each, asking those
 * before to agree as well lets 24 more of 132 slips that a line can show go by, and spares 0.05 % of clean captures, 0.07 % of pulled ones.
 */
function jumpOf(peaks: Peaks): Against | null {
  const { agreeing, nearby, settings } = peaks;
  const sign = signOf(settings.side);
  const level = meanOf(agreeing.map((peak) => peak.value));
  const agrees = (peak: Peak) => agreeing.includes(peak);
  const before = nearby.slice(0, nearby.findIndex(agrees));
  const after = nearby.slice(nearby.findLastIndex(agrees) + 1);
  for (const outer of [before, after]) {
    const offs = outer
      .filter((peak) => isOff(peak, level, peaks))
      .filter(({ value, reached, alone }) => sign * (value - level) < 0 || sign * (reached - level) > alone)
      .map((peak) => sign * (peak.value - level));
    const lower = offs.filter((off) => off < 0).sort((a, b) => a - b);
    const alike = lower.some(
      (off, i) => i > 0 && (outer === before || off - (lower[i - 1] ?? off) <= settings.tolerance),
    );
    if (offs.length > lower.length || (alike && 2 * lower.length > outer.length))
      return { kind: 'jumped', change: mm(sign * (outer === before ? -1 : 1) * medianOf(offs)) };
  }
  return null;
}

/** Even a practised hand, without a mark to aim at, varies its turns by this share of its swing; our own choice. */
const ALIKE = 0.02;

/**
 * A hand that crosses the diameter makes higher rocks, more of which agree. So chance may make one set as alike as theirs where the
 * tallest is this high, in mm, and (h/this)^3 where it is h, eight times as many if more agree than must; our own choice. Of 4,000
 * simulated captures each 0.15 refuses 0.6 % of clean ones, 1.4 % of pulled ones, and keeps 23 with the jaws held off the diameter and
 * 54 rocked short of it that a line can show; 0.1 0.3 %, 0.85 %, 49, 77; 0.2 0.8 %, 2.0 %, 15, 39. One set, whatever the height, was
 * 1.0 %, 1.7 %, 48, 75.
 */
const SMALL = 0.15;

/**
 * Jaws held off the diameter. Of a hand that turns back at e and at f > e off it, the peaks are wrong by E = 2 e^2/D and stand
 * h = 2 (f^2 - e^2)/D above the valleys, and where its turns vary by s, peaks vary by 4 e s/D and valleys by 4 f s/D: the peaks
 * by P = sqrt(E/(E + h)) of what the valleys do (derived). Where even the most alike of the peaks are no more alike than chance
 * makes peaks that vary so, for an E that matters, or where no peak stands that high, the hand may be such a one.
 */
function heldOffOf({ agreeing, nearby, settings: { leastPeaks }, scale }: Peaks): Against | null {
  const heights = agreeing.map((peak) => peak.height);
  const tallest = Math.max(...heights);
  const valleys = nearby.slice(1).map(({ sides }, i) => Math.max(sides[0], nearby[i]?.sides[1] ?? sides[0]));
  const [near, far] = [Math.sqrt(WRONG), Math.sqrt(WRONG + medianOf(heights))];
  const seen = valleys.length > 1 ? spreadOf(valleys).deviation : 0;
  const varying = (Math.max(seen, 2 * ALIKE * far * (far - near)) * near) / far;
  const blur = meanOf(agreeing.map((peak) => standardOfPeak(peak, scale)));
  const values = nearby.map((peak) => peak.value).sort((a, b) => a - b);
  const most = ((tallest * (agreeing.length > leastPeaks ? 2 : 1)) / SMALL) ** 3;
  return tallest < WRONG - 1e-9 || !isRarer(most, values, leastPeaks, blur, varying)
    ? { kind: 'held-off', height: mm(tallest) }
    : null;
}

/** Whether chance would make no more than `most` sets as close as some set of these sorted values, `least` or more of them. */
function isRarer(
  most: number,
  values: readonly number[],
  least: number,
  blur: number,
  varying: number,
): boolean {
  for (let count = values.length; count >= least; count--) {
    let narrowest = Number.POSITIVE_INFINITY;
    for (let low = 0; low + count <= values.length; low++)
      narrowest = Math.min(narrowest, (values[low + count - 1] ?? 0) - (values[low] ?? 0));
    if (setsExpected(values.length, count, Math.hypot(narrowest, blur) / varying) <= most) return true;
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

/**
 * Where only the first peak is low, by up to this, in mm, the hand seated badly or the zero slipped up after it, and no line shows which:
 * this many more must agree. Our own choice, of 4,000 simulated captures each: two more refuse 0.8 % of clean ones, 0.3 % of pulled
 * ones, and 91 of 132 slips that would be kept; one more 0.25 %, 0.1 % and 62; refusing every low first peak 2.1 %, 1.3 % and 103.
 */
const LOW_FIRST = { by: 0.35, more: 2 } as const;

/** How many more must agree since the first peak is low, and no other: one that is low later as well is a hand that seats badly now and then. */
export function moreAfterLow(peaks: Peaks): number {
  const [first, ...others] = peaks.nearby;
  if (!first || peaks.agreeing.includes(first)) return 0;
  const level = meanOf(peaks.agreeing.map((peak) => peak.value));
  const lowBy = (peak: Peak) => signOf(peaks.settings.side) * (level - peak.value);
  const isLow = (peak: Peak) => lowBy(peak) > 0 && isOff(peak, level, peaks);
  return isLow(first) && lowBy(first) < LOW_FIRST.by && !others.some(isLow) ? LOW_FIRST.more : 0;
}
