// Which peaks agree, what they say together, and how sure that is: the highest level that enough peaks support.
import { extentOf, meanOf } from '../statistics.ts';
import { type Length, mm } from '../units.ts';
import { type Against, againstOf, isOff, type Peaks } from './against.ts';
import { type CaptureSettings, signOf } from './capture-settings.ts';
import { type Steady, steadyAt } from './level.ts';
import { noiseScale, type Peak, standardOfPeak } from './peak.ts';

/** How peaks are weighed; our own figures. */
const AGREEMENT = {
  /** Peaks whose own standard uncertainty is above this many times the tolerance do not vote. */
  clear: 1.5,
  /** Other peaks count against the agreement only within this share of the size: farther ones are of something else. */
  near: 0.03,
  /**
   * For one peak beyond the agreeing ones, this many of them must be firm: placed within this share of the
   * tolerance, and this many times better than the excess.
   */
  perBeyond: 3,
  firm: 0.7,
  firmness: 3,
  /** A peak this many of its own standard uncertainties beyond the agreeing ones is a peak beyond. */
  beyond: 2,
  /** A reading this far beyond the agreeing peaks, in mm, counts as a peak beyond. */
  readingBeyond: 0.015,
  /** The least share of the peaks nearby that must agree. */
  share: 0.3,
  /**
   * Where only the first peak is low, by up to this, in mm, the hand seated badly or the zero slipped up after it, and no line shows which:
   * this many more must agree. Our own choice, of 4,000 simulated captures each: two more refuse 0.8 % of clean ones, 0.3 % of pulled
   * ones, and 91 of 132 slips that would be kept; one more 0.25 %, 0.1 % and 62; refusing every low first peak 2.1 %, 1.3 % and 103.
   */
  lowFirst: 0.35,
  afterLow: 2,
} as const;

/** Peaks that vote: the last 16. */
export const VOTERS = 16;

export interface Agreement {
  readonly agreeing: readonly Peak[];
  /** Peaks nearby: agreeing, lower and beyond. */
  readonly nearby: readonly Peak[];
  /** Clear peaks beyond the agreeing ones. */
  readonly beyond: readonly Peak[];
  /** How many must agree. */
  readonly needed: number;
  /** Largest less smallest of the agreeing peaks. */
  readonly spread: Length;
  /** The diameter, where enough agree and nothing speaks against it. */
  readonly steady: Steady | null;
  /** What the line shows that speaks against the peaks, though they agree. */
  readonly against: Against | null;
}

/** The best supported level among the peaks, in order of time; null when no peak is clear. This runs for every peak. */
export function agreementOf(
  peaks: readonly Peak[],
  settings: CaptureSettings,
  step: number,
): Agreement | null {
  const sign = signOf(settings.side);
  const scale = noiseScale(peaks);
  const span = Math.max(settings.tolerance, 2 * step) * (1 + 1e-9);
  const enough = Math.max(settings.leastPeaks, AGREEMENT.share * peaks.length);
  const clear = peaks
    .filter((peak) => standardOfPeak(peak, scale) <= AGREEMENT.clear * span)
    .sort((a, b) => sign * (b.value - a.value));
  const agreeing = bestGroup(clear, span, enough);
  const leader = agreeing[0];
  if (!leader) return null;
  const nearby = peaks.filter((peak) => Math.abs(peak.value - leader.value) <= AGREEMENT.near * leader.value);
  const past = (value: Length) => sign * (value - leader.value);
  const beyond = nearby.filter(
    (peak) =>
      !agreeing.includes(peak) &&
      (past(peak.value) > AGREEMENT.beyond * standardOfPeak(peak, scale) ||
        past(peak.reached) > AGREEMENT.readingBeyond),
  );
  const excess = Math.min(...beyond.map((peak) => Math.max(past(peak.value), past(peak.reached))));
  const inTime = { agreeing: nearby.filter((peak) => agreeing.includes(peak)), nearby, settings, scale };
  const needed = settings.leastPeaks + (isOnlyFirstLow(inTime) ? AGREEMENT.afterLow : 0);
  const closed =
    agreeing.length >= needed &&
    agreeing.length >= AGREEMENT.share * nearby.length &&
    beyond.length <= Math.floor(firmOf(inTime, excess) / AGREEMENT.perBeyond);
  const against = againstOf(inTime);
  return {
    agreeing,
    nearby,
    beyond,
    needed,
    spread: mm(extentOf(agreeing.map((peak) => peak.value))),
    steady: closed && !against ? steadyAt(inTime, step) : null,
    against,
  };
}

/** Whether the first peak is low, and no other: one that is low later as well is a hand that seats badly now and then. */
function isOnlyFirstLow(peaks: Peaks): boolean {
  const [first, ...others] = peaks.nearby;
  if (!first || peaks.agreeing.includes(first)) return false;
  const level = meanOf(peaks.agreeing.map((peak) => peak.value));
  const lowBy = (peak: Peak) => signOf(peaks.settings.side) * (level - peak.value);
  const isLow = (peak: Peak) => lowBy(peak) > 0 && isOff(peak, level, peaks);
  return isLow(first) && lowBy(first) < AGREEMENT.lowFirst && !others.some(isLow);
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

function firmOf({ agreeing, settings, scale }: Peaks, excess: number): number {
  const most = Math.min(AGREEMENT.firm * settings.tolerance, excess / AGREEMENT.firmness);
  return agreeing.filter((peak) => standardOfPeak(peak, scale) <= most).length;
}
