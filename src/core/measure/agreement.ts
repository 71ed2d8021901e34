// Which peaks agree, what they say together, and how sure that is: the highest level that enough peaks support.
import { extentOf, meanOf } from '../statistics.ts';
import { type Length, mm } from '../units.ts';
import { type CaptureSettings, signOf } from './capture-settings.ts';
import { noiseScale, type Peak, standardOfPeak } from './peak.ts';
import { rectangular, standardOf } from './uncertainty.ts';

/** How peaks are weighed; our own figures. */
const AGREEMENT = {
  /** Peaks whose own standard uncertainty is above this many times the tolerance do not vote. */
  clear: 1.5,
  /** Peaks must lie within this share of their median height above their sides. */
  ofHeight: 1 / 3,
  /** Other peaks count against the agreement only within this share of the size: farther ones are of something else. */
  near: 0.03,
  /**
   * For one peak beyond the agreeing ones, this many of them must be firm: placed within this share of the
   * tolerance, and this many times better than the excess.
   */
  perBeyond: 3,
  firm: 0.7,
  firmness: 3,
  /** A reading this far beyond the agreeing peaks, in mm, counts as a peak beyond. */
  readingBeyond: 0.015,
  /** The least share of the peaks nearby that must agree. */
  share: 0.3,
  /** Where no rock but one reaches this many steps, more of the peaks must agree, and better beside their height. */
  shallow: { steps: 6, share: 0.5, ofHeight: 1 / 4, span: 1.2 },
  /** In steps: the least span to agree within, where the rocks are deep. */
  span: 1.5,
} as const;

/** Peaks that vote: the last 16. */
export const VOTERS = 16;

export interface Agreement {
  readonly agreeing: readonly Peak[];
  /** Peaks nearby: agreeing, lower and beyond. */
  readonly nearby: readonly Peak[];
  /** Clear peaks beyond the agreeing ones. */
  readonly beyond: readonly Peak[];
  /** Largest less smallest of the agreeing peaks. */
  readonly spread: Length;
  /** The diameter, where enough agree and nothing speaks against it. */
  readonly steady: Steady | null;
  /** What the line shows that speaks against the peaks, though they agree. */
  readonly against: Against | null;
}

/** A hand or a caliper that makes peaks agree on a wrong size, with the evidence. */
export type Against =
  | { readonly kind: 'drifting'; readonly change: Length; readonly peaks: number }
  | { readonly kind: 'jumped'; readonly change: Length }
  | { readonly kind: 'no-curve' }
  | { readonly kind: 'held-off'; readonly height: Length };

/** A diameter that the peaks agree on. */
export interface Steady {
  readonly state: 'steady';
  readonly diameter: Length;
  /**
   * Of the diameter as this caliper shows it: agreement, resolution and tilt. The caliper's own limit of error is NOT in it:
   * that is the same for bore and spigot measured with one caliper, so the budget of the fit counts it.
   */
  readonly standardUncertainty: Length;
  readonly degreesOfFreedom: number;
  readonly peaks: number;
  readonly agreeing: number;
  /** Largest less smallest of the agreeing peaks. */
  readonly spread: Length;
}

/** The best supported level among the peaks, in order of time; null when no peak is clear. This runs for every peak. */
export function agreementOf(
  peaks: readonly Peak[],
  settings: CaptureSettings,
  step: number,
): Agreement | null {
  const sign = signOf(settings.side);
  const scale = noiseScale(peaks);
  const strictness = strictnessOf(peaks, settings, step);
  const clear = peaks
    .filter((peak) => standardOfPeak(peak, scale) <= AGREEMENT.clear * Math.max(settings.tolerance, 2 * step))
    .sort((a, b) => sign * (b.value - a.value));
  const agreeing = bestGroup(clear, strictness.span, settings.leastPeaks);
  const leader = agreeing[0];
  if (!leader) return null;
  const nearby = peaks.filter((peak) => Math.abs(peak.value - leader.value) <= AGREEMENT.near * leader.value);
  const past = (value: Length) => sign * (value - leader.value);
  const beyond = nearby.filter(
    (peak) =>
      !agreeing.includes(peak) &&
      ((past(peak.value) > 0 && clear.includes(peak)) || past(peak.reached) > AGREEMENT.readingBeyond),
  );
  const excess = Math.min(...beyond.map((peak) => Math.max(past(peak.value), past(peak.reached))));
  const closed =
    agreeing.length >= settings.leastPeaks &&
    agreeing.length >= strictness.share * nearby.length &&
    beyond.length <= Math.floor(firmOf(agreeing, excess, scale, settings) / AGREEMENT.perBeyond);
  const spread = mm(Math.abs(past(agreeing.at(-1)?.value ?? leader.value)));
  const steady = closed
    ? steadyAt(
        agreeing,
        nearby.filter((peak) => agreeing.includes(peak)),
        nearby.length,
        spread,
        scale,
        settings,
      )
    : null;
  return {
    agreeing,
    nearby,
    beyond,
    spread,
    steady,
    against: againstOf(agreeing, nearby, settings, step, strictness.span),
  };
}

/**
 * Of the peaks, sorted from the farthest down: the farthest one with enough others within the span below it, and those;
 * where none has enough, the one with the most.
 */
function bestGroup(sorted: readonly Peak[], span: number, enough: number): readonly Peak[] {
  let [best, size] = [0, 0];
  for (let from = 0, to = 0; from < sorted.length; from++) {
    const farthest = sorted[from]?.value ?? 0;
    while (to < sorted.length && Math.abs((sorted[to]?.value ?? 0) - farthest) <= span) to++;
    if (to - from > size) [best, size] = [from, to - from];
    if (size >= enough) break;
  }
  return sorted.slice(best, best + size);
}

/** What is asked of these peaks: a span to agree within, and what share of those nearby must. */
interface Strictness {
  readonly span: number;
  readonly share: number;
}

/** The tolerance and a share: both stricter where the rocks are so shallow that a sway could pass for them. */
function strictnessOf(peaks: readonly Peak[], { tolerance }: CaptureSettings, step: number): Strictness {
  const heights = peaks.map((peak) => peak.height).sort((a, b) => b - a);
  const [upper, lower] = [Math.floor((heights.length - 1) / 2), Math.ceil((heights.length - 1) / 2)];
  const median = ((heights[lower] ?? 0) + (heights[upper] ?? 0)) / 2;
  const { span, ofHeight, share } =
    (heights[1] ?? 0) < AGREEMENT.shallow.steps * step ? AGREEMENT.shallow : AGREEMENT;
  const most = Math.max(span * step, ofHeight * median);
  return { span: Math.min(Math.max(tolerance, 2 * step), most) * (1 + 1e-9), share };
}

const firmOf = (
  agreeing: readonly Peak[],
  excess: number,
  scale: number,
  { tolerance }: CaptureSettings,
): number =>
  agreeing.filter(
    (peak) =>
      standardOfPeak(peak, scale) <= Math.min(AGREEMENT.firm * tolerance, excess / AGREEMENT.firmness),
  ).length;

/** A trend this many standard deviations from none, though too small to refuse, is a drift that the diameter may be off by: our own figure. */
const TREND = 2;

/** The doubt that a small drift leaves: the change as a rectangle either way, since nobody knows when the size was right. */
function driftDoubt(inTime: readonly Peak[]): number {
  if (inTime.length < DRIFT.peaks - 1) return 0;
  const { change, deviation } = trendOf(inTime);
  return Math.abs(change) > TREND * deviation ? rectangular(Math.abs(change)) : 0;
}

/** When peaks drift; our own figures: enough of them, a change of this share of the tolerance, this many standard deviations of that change. */
const DRIFT = { peaks: 5, share: 0.75, sure: 5 } as const;

function againstOf(
  agreeing: readonly Peak[],
  nearby: readonly Peak[],
  settings: CaptureSettings,
  step: number,
  span: number,
): Against | null {
  const enough = agreeing.length >= settings.leastPeaks;
  return (
    driftOf(nearby, settings) ??
    (enough ? jumpOf(agreeing, nearby, settings, span) : null) ??
    (enough && agreeing.filter((peak) => peak.isCurved).length * 2 < agreeing.length
      ? { kind: 'no-curve' }
      : null) ??
    (enough ? heldOffOf(agreeing, nearby, step) : null)
  );
}

/** The drift of these peaks: a straight line through them against their order, if their scatter does not explain it. */
function driftOf(peaks: readonly Peak[], { tolerance }: CaptureSettings): Against | null {
  if (peaks.length < DRIFT.peaks) return null;
  const { change, deviation } = trendOf(peaks);
  const isDrift = Math.abs(change) >= DRIFT.share * tolerance && Math.abs(change) >= DRIFT.sure * deviation;
  return isDrift ? { kind: 'drifting', change: mm(change), peaks: peaks.length } : null;
}

/** The change of a straight line through the peaks from the first to the last, against their order, and its standard deviation. */
function trendOf(peaks: readonly Peak[]): { readonly change: number; readonly deviation: number } {
  const middle = (peaks.length - 1) / 2;
  const mean = peaks.reduce((sum, peak) => sum + peak.value, 0) / peaks.length;
  const squares = peaks.reduce((sum, _, i) => sum + (i - middle) ** 2, 0);
  const slope = peaks.reduce((sum, peak, i) => sum + (i - middle) * (peak.value - mean), 0) / squares;
  const left = peaks.reduce((sum, peak, i) => sum + (peak.value - mean - slope * (i - middle)) ** 2, 0);
  const times = peaks.length - 1;
  return { change: slope * times, deviation: times * Math.sqrt(left / (peaks.length - 2) / squares) };
}

/**
 * A single peak lower than the rest is more likely badly seated than a zero that slipped, and a jump of less than this many
 * times the tolerance is scatter; our own figures.
 */
const JUMP = { peaks: 2, ofTolerance: 1.5 } as const;

/**
 * A zero that slips leaves two levels, one after the other: the peaks that agree, and others within the same span of one another
 * that are lower and all earlier, or all later. Which of the two is right the line cannot show.
 */
function jumpOf(
  agreeing: readonly Peak[],
  nearby: readonly Peak[],
  settings: CaptureSettings,
  span: number,
): Against | null {
  const [first, last] = [
    nearby.findIndex((peak) => agreeing.includes(peak)),
    nearby.findLastIndex((peak) => agreeing.includes(peak)),
  ];
  const sign = signOf(settings.side);
  const level = meanOf(agreeing.map((peak) => peak.value));
  const lowest = Math.min(...agreeing.map((peak) => sign * peak.value));
  for (const side of [nearby.slice(0, first), nearby.slice(last + 1)]) {
    const lower = side
      .filter((peak) => sign * peak.value < lowest)
      .sort((a, b) => sign * (b.value - a.value));
    const other = bestGroup(lower, span, JUMP.peaks);
    if (other.length < JUMP.peaks) continue;
    const change = meanOf(other.map((peak) => peak.value)) - level;
    if (Math.abs(change) < JUMP.ofTolerance * settings.tolerance) continue;
    return { kind: 'jumped', change: mm(side[0] === nearby[0] ? -change : change) };
  }
  return null;
}

/**
 * How to recognise jaws held off the diameter. Off it by e, a sway moves the chord by 4 e / D of itself: the valleys, e + 2a off
 * where the hand sways by a to either side, vary (e + 2a) / e times as much as the peaks, which is less than 3 while a is less than e
 * (derived). Across the diameter the peaks do not feel how far the hand swings, and the valleys do. Tall rocks need no such
 * proof: who swings that far off the diameter does not do so alike (our own figures).
 */
const HELD_OFF = { valleysOverPeaks: 3, tall: 0.15, least: 5.5 } as const;

function heldOffOf(agreeing: readonly Peak[], nearby: readonly Peak[], step: number): Against | null {
  const tallest = Math.max(...agreeing.map((peak) => peak.height));
  if (tallest >= HELD_OFF.tall) return null;
  const valleys = nearby.slice(1).map(({ sides }, i) => Math.max(sides[0], nearby[i]?.sides[1] ?? sides[0]));
  const among = Math.hypot(step / 2, extentOf(agreeing.map((peak) => peak.value)));
  const isAlike = valleys.length > 1 && extentOf(valleys) < HELD_OFF.valleysOverPeaks * among;
  return isAlike || tallest < HELD_OFF.least * step ? { kind: 'held-off', height: mm(tallest) } : null;
}

const EXACT = { sensitivity: 1, degreesOfFreedom: Number.POSITIVE_INFINITY } as const;

/** The diameter, its tilt taken off, and its standard uncertainty. */
function steadyAt(
  agreeing: readonly Peak[],
  inTime: readonly Peak[],
  peaks: number,
  spread: Length,
  scale: number,
  { side, tiltHalfRange }: CaptureSettings,
): Steady {
  const sign = signOf(side);
  const { height, standard, degreesOfFreedom } = levelOf(agreeing, scale, sign);
  const tilt = tiltOf(sign * height, tiltHalfRange);
  const rounding = agreeing.reduce((sum, peak) => sum + peak.sharedRounding, 0) / agreeing.length;
  const combined = standardOf([
    { name: 'agreement', standard, sensitivity: 1, degreesOfFreedom },
    { name: 'resolution', standard: LEVEL.rounding * rounding, ...EXACT },
    { name: 'tilt', standard: tilt.standard, ...EXACT },
    { name: 'drift', standard: driftDoubt(inTime), ...EXACT },
  ]);
  return {
    state: 'steady',
    diameter: mm(sign * height - tilt.mean),
    standardUncertainty: mm(combined.standard),
    degreesOfFreedom: combined.degreesOfFreedom,
    peaks,
    agreeing: agreeing.length,
    spread,
  };
}

/** D (1/cos T - 1) for T uniform within the half-range: mean D T^2/6, standard deviation D T^2 / sqrt(45) = 0.149 D T^2 (derived). */
function tiltOf(diameter: number, halfRange: number): { readonly mean: Length; readonly standard: number } {
  const square = diameter * halfRange ** 2;
  return { mean: mm(square / 6), standard: square / Math.sqrt(45) };
}

/** The level that agreeing peaks speak for: a peak may be low for many reasons, and is high for almost none. Our own figures. */
const LEVEL = {
  /** Beyond this many standard deviations on the low side, a low peak is put down to the hand, not to noise. */
  knee: 0.95,
  /** For the scatter, no peak counts as lower than this many standard deviations. */
  lowest: 2,
  /** The uncertainty assumed for a peak counts as this many peaks. */
  before: 2,
  /** Grid of levels looked at: this many to one standard deviation of the best peak. */
  perDeviation: 2,
  most: 48,
  /** The share of a step's rounding that flicker and the readings on the flanks leave: 90 to 98 % of simulated captures within two uncertainties. */
  rounding: 0.5,
} as const;

interface Level {
  /** Toward the peak: negative for an outside. */
  readonly height: number;
  readonly standard: number;
}

/**
 * Posterior mean and standard deviation of the level (flat before; on a grid), the peaks' scale pooled from their scatter
 * and their own standard uncertainties.
 */
function levelOf(
  peaks: readonly Peak[],
  scale: number,
  sign: number,
): Level & { readonly degreesOfFreedom: number } {
  const heights = peaks.map((peak) => sign * peak.value);
  const standards = peaks.map((peak) => standardOfPeak(peak, scale));
  const first = posterior(heights, standards);
  const degreesOfFreedom = LEVEL.before + peaks.length - 1;
  let squares = 0;
  for (let i = 0; i < heights.length; i++)
    squares += Math.max(-LEVEL.lowest, ((heights[i] ?? 0) - first.height) / (standards[i] ?? 1)) ** 2;
  const spread = Math.sqrt((LEVEL.before + squares) / degreesOfFreedom);
  const scaled = standards.map((standard) => standard * spread);
  return { ...posterior(heights, scaled), degreesOfFreedom };
}

/** On a grid, in plain loops: this runs for every peak. */
function posterior(heights: readonly number[], standards: readonly number[]): Level {
  const finest = Math.min(...standards);
  const low = Math.min(...heights) - 3 * finest;
  const high = Math.max(...heights) + 3 * finest;
  const count = Math.min(LEVEL.most, Math.ceil(((high - low) / finest) * LEVEL.perDeviation));
  const step = (high - low) / count;
  const costs = new Float64Array(count + 1);
  for (let i = 0; i < heights.length; i++) addUnlikely(costs, heights[i] ?? 0, standards[i] ?? 1, low, step);
  let least = Number.POSITIVE_INFINITY;
  for (const cost of costs) least = Math.min(least, cost);
  let [total, first, second] = [0, 0, 0];
  for (let i = 0; i <= count; i++) {
    const weight = Math.exp(least - (costs[i] ?? 0));
    total += weight;
    first += weight * i;
    second += weight * i * i;
  }
  const mean = first / total;
  return { height: low + mean * step, standard: step * Math.sqrt(Math.max(0, second / total - mean * mean)) };
}

/**
 * Adds minus the log likelihood of a peak to the cost of each level of the grid: normal where the peak stands above the
 * level or hardly below it, exponential from the knee down.
 */
function addUnlikely(costs: Float64Array, height: number, standard: number, low: number, step: number): void {
  for (let i = 0; i < costs.length; i++) {
    const off = (height - low - i * step) / standard;
    costs[i] =
      (costs[i] ?? 0) + (off >= -LEVEL.knee ? (off * off) / 2 : -LEVEL.knee * off - LEVEL.knee ** 2 / 2);
  }
}
