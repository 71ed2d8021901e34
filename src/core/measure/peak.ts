// The peak of one rock: when it was, how high, and how well its readings place it.
import { type Length, type Millis, millis, mm } from '../units.ts';
import { type Side, signOf } from './capture-settings.ts';
import { type Prior, type Quartic, quarticFit } from './quartic.ts';
import type { Reading } from './reading.ts';
import { itemAt, type Series } from './reading.ts';
import type { Turn } from './turns.ts';

/** The readings followed without a break: the places, among all readings, of those accepted, from `start` of them on. */
export interface Run {
  readonly readings: Series<Reading>;
  readonly accepted: Series<number>;
  readonly start: number;
}

export interface Peak {
  readonly at: Millis;
  readonly value: Length;
  /** The reading nearest to the peak of those it was found from. */
  readonly reached: Length;
  /** How far the second nearest is from that one. */
  readonly alone: number;
  /** Variance from the readings' noise, if that is what was assumed; and how far they lie from the shape: chi squared, and for how many degrees of freedom. */
  readonly placing: number;
  readonly misfit: number;
  readonly freedom: number;
  /** Standard uncertainty from the unknown shape of the hand's movement. */
  readonly shape: number;
  /** The part of one step's rounding that every rock across this diameter repeats. */
  readonly sharedRounding: number;
  /** How far it is above the higher of its two sides. */
  readonly height: number;
  /** How high the lowest readings beside it were, toward the peak: before it, and after it so far. */
  readonly sides: readonly [before: number, after: number];
  /** Whether a reading was seen on its flanks, between the peak and its sides. */
  readonly isCurved: boolean;
  /** Half the time its readings span. */
  readonly halfSpan: number;
  /** Places of the readings it was found from, and of those that it rejects. */
  readonly from: readonly number[];
  readonly rejected: readonly number[];
}

/** Which readings belong to a peak; our own figures. */
const FLANKS = {
  /** Those less than this share of the rock's height below it, and one beyond on either side. */
  share: 0.25,
  most: 40,
  /** A reading between these shares of the height below the peak is on a flank. */
  from: 0.1,
  to: 0.9,
} as const;

/** Standard uncertainty of a peak where the readings' noise has `scale` times the variance assumed. */
export const standardOfPeak = ({ placing, shape }: Peak, scale: number): number =>
  Math.sqrt(placing * scale + shape ** 2);

/** How much more variance the readings of these peaks show than was assumed; the assumption counts as ASSUMED degrees of freedom. */
export const noiseScale = (peaks: readonly Peak[]): number => {
  let [misfit, freedom] = [ASSUMED, ASSUMED];
  for (const peak of peaks) {
    misfit += peak.misfit;
    freedom += peak.freedom;
  }
  return misfit / freedom;
};

const ASSUMED = 2;

/** What is assumed of hands and calipers; our own figures, from simulated hands of several makings. */
const HAND = {
  /** Standard deviation in mm of a reading under a steady hand, besides its rounding: flicker and tremor, our own choice. */
  tremor: 0.004,
  /** Share of the fall below the peak that the quartic cannot follow. */
  unfollowed: 0.3,
  /**
   * Cubic and quartic of a rock as shares of its fall within the readings, which is `reach` of its whole fall. A swing's sine squared
   * has reach^2 for the quartic, within 0.04 from reach 0.25 to 1 (derived); leaning and haste spread both.
   */
  cubic: { least: 0.2, more: 0.4 },
  quartic: { least: 0.15, more: 0.4 },
  /** What the shape adds beyond the highest reading is not known better than to this share. */
  beyond: 0.4,
  /** A highest reading that stands alone may be short of the peak by about this share of its lead over the second. */
  isolated: 0.08,
  /** A reading this many standard deviations off the others' shape is rejected. */
  outlying: 5,
  /**
   * A peak found from few readings is low rather than high, since its hand may have been faster than they show: by 0.4 to
   * 0.6 of its uncertainty beyond the tremor at the median of 14,000 peaks of both simulated hands at 4 to 12 readings a second. Our own
   * choice is less, since the level leans high by itself: 0 leaves the level at 4 a second 5 um low, this 3, and 0.3 puts that
   * of a noisy caliper 4 um high.
   */
  short: 0.2,
} as const;

const valueAt = ({ readings, accepted }: Run, index: number): Reading | undefined =>
  itemAt(readings, itemAt(accepted, index) ?? -1);

/** The peak at this turn of the run, or null where its readings show none: no largest inside them, or none that they place. */
export function peakAt(run: Run, turn: Turn, side: Side): Peak | null {
  const sign = signOf(side);
  const start = flankEnd(run, turn, sign, -1);
  const end = flankEnd(run, turn, sign, 1);
  const middle = valueAt(run, turn.place);
  const first = valueAt(run, start);
  const last = valueAt(run, end);
  if (!middle || !first || !last || end - start < 2 || middle.value <= 0) return null;
  const half = Math.max(middle.at - first.at, last.at - middle.at);
  const points = pointsOf(run, start, end, { middle, half, sign });
  const shape = withoutOutliers(points, Math.max(heightOf(turn), middle.step));
  const time = shape && turnOf(points, shape);
  return shape && time !== null
    ? placed(points, shape, time, {
        middle,
        half,
        turn,
        sign,
        isCurved: isCurved(run, turn, sign, start, end),
      })
    : null;
}

/** How far to one side the readings belong to this peak: to the first that falls out of its flank. */
function flankEnd(run: Run, turn: Turn, sign: number, direction: 1 | -1): number {
  const height = Math.min(Math.max(turn.rise, turn.fall), 2 * Math.min(turn.rise, turn.fall));
  const floor = turn.height - FLANKS.share * height;
  let below = 0;
  let index = turn.place;
  for (let count = 0; count < FLANKS.most; count++) {
    const next = index + direction;
    const reading = next >= run.start ? valueAt(run, next) : undefined;
    if (!reading || (count > 0 && sign * reading.value > turn.height)) break;
    below = sign * reading.value < floor ? below + 1 : 0;
    if (below > 0 && count >= 1) return below > 1 ? index : next;
    index = next;
  }
  return index;
}

const heightOf = (turn: Turn): number => Math.min(turn.rise, turn.fall);

/** Jaws that cross the diameter are seen on the way; a value that only jumps between two sizes has no flanks. */
function isCurved(run: Run, turn: Turn, sign: number, start: number, end: number): boolean {
  const height = heightOf(turn);
  for (let index = Math.max(run.start, start - 1); index <= end + 1; index++) {
    const reading = valueAt(run, index);
    if (!reading) continue;
    const below = turn.height - sign * reading.value;
    if (below > Math.max(FLANKS.from * height, 1.5 * reading.step) && below < FLANKS.to * height) return true;
  }
  return false;
}

/** The readings around a peak as columns: time from -1 to 1, height, and what the weights are made of. */
interface Points {
  readonly places: readonly number[];
  readonly values: readonly Length[];
  readonly times: Float64Array;
  /** (v^2 - r^2) / 2r, positive toward the peak: a chord's square falls as the square of the offset. */
  readonly heights: Float64Array;
  /** The variance of a reading's rounding and tremor, times how many in a row show the same: together they carry one rounding. */
  readonly variances: Float64Array;
  readonly step: number;
}

interface Middle {
  readonly middle: Reading;
  readonly half: number;
  readonly sign: 1 | -1;
}

function pointsOf(run: Run, start: number, end: number, { middle, half, sign }: Middle): Points {
  const count = end - start + 1;
  const [places, values]: [number[], Length[]] = [[], []];
  const [times, heights, variances] = [
    new Float64Array(count),
    new Float64Array(count),
    new Float64Array(count),
  ];
  const r = middle.value;
  let same = 0;
  for (let i = 0; i < count; i++) {
    const reading = valueAt(run, start + i) ?? middle;
    places.push(itemAt(run.accepted, start + i) ?? 0);
    values.push(reading.value);
    times[i] = (reading.at - middle.at) / half;
    heights[i] = (sign * (reading.value - r) * (reading.value + r)) / (2 * r);
    if (reading.value !== values[same]) same = i;
    for (let j = same; j <= i; j++)
      variances[j] = (reading.step ** 2 / 12 + HAND.tremor ** 2) * (i - same + 1);
  }
  return { places, values, times, heights, variances, step: middle.step };
}

/** A quartic through the points that were kept. */
interface Shape {
  /** Indices among the points. */
  readonly kept: readonly number[];
  readonly weights: Float64Array;
  readonly quartic: Quartic;
  readonly highest: number;
}

function shapeOf(points: Points, kept: readonly number[], height: number): Shape | null {
  const { times, heights, variances } = points;
  const highest = heights[highestOf(points, kept)] ?? 0;
  let fall = height / 4;
  const weights = new Float64Array(heights.length);
  for (const i of kept) {
    const below = Math.max(0, highest - points.step - (heights[i] ?? 0));
    fall = Math.max(fall, below);
    weights[i] = 1 / ((variances[i] ?? 0) + (HAND.unfollowed * below) ** 2);
  }
  const quartic = quarticFit(times, heights, weights, priorsOf(fall, Math.min(1, fall / height)));
  return quartic && { kept, weights, quartic, highest };
}

/** The prior of the coefficients of a rock that falls this far within its readings, which is `reach` of its whole fall. */
function priorsOf(fall: number, reach: number): readonly Prior[] {
  const known = (mean: number, spread: number): Prior => ({
    mean: mean * fall,
    weight: 1 / (spread * fall) ** 2,
  });
  return [
    known(0, 10),
    known(0, 4),
    known(0, 8),
    known(0, HAND.cubic.least + HAND.cubic.more * reach),
    known(reach ** 2, HAND.quartic.least + HAND.quartic.more * reach),
  ];
}

/** A quarter of the readings at most are left out, and none of four. */
function withoutOutliers(points: Points, height: number): Shape | null {
  const all = points.places.map((_, i) => i);
  let shape = shapeOf(points, all, height);
  for (let left = Math.max(1, Math.floor(all.length / 4)); shape && left > 0; left--) {
    const worst = shape.kept.length > 4 ? outlierOf(points, shape) : -1;
    if (worst < 0) return shape;
    shape = shapeOf(
      points,
      shape.kept.filter((i) => i !== worst),
      height,
    );
  }
  return shape;
}

/** The reading farthest from what the others say of it, in its own standard deviations, if it is too far; else -1. */
function outlierOf({ times, heights }: Points, { kept, weights, quartic }: Shape): number {
  let [worst, farthest] = [-1, HAND.outlying as number];
  for (const i of kept) {
    const [time, weight] = [times[i] ?? 0, weights[i] ?? 0];
    const apart = Math.max(1 - weight * quartic.varianceAt(time), 1e-9);
    const off = Math.abs((heights[i] ?? 0) - quartic.at(time)) * Math.sqrt(weight / apart);
    if (off > farthest) [worst, farthest] = [i, off];
  }
  return worst;
}

/** The time of the fitted shape's largest value between the neighbours of its highest reading; null where it has none inside. */
function turnOf({ times }: Points, { kept, quartic }: Shape): number | null {
  const fitted = (at: number): number => quartic.at(times[kept[at] ?? 0] ?? 0);
  let highest = 0;
  for (let at = 1; at < kept.length; at++) if (fitted(at) > fitted(highest)) highest = at;
  const start = times[kept[Math.max(0, highest - 1)] ?? 0] ?? 0;
  const end = times[kept[Math.min(kept.length - 1, highest + 1)] ?? 0] ?? 0;
  const part = (end - start) / PARTS;
  if (!(part > 0)) return null;
  let best = 0;
  for (let at = 1; at <= PARTS; at++)
    if (quartic.at(start + part * at) > quartic.at(start + part * best)) best = at;
  if (best === 0 || best === PARTS) return null;
  let [low, high] = [start + part * (best - 1), start + part * (best + 1)];
  for (let halving = 0; halving < 24; halving++) {
    const mid = (low + high) / 2;
    if (quartic.slopeAt(mid) > 0) low = mid;
    else high = mid;
  }
  return low;
}

const PARTS = 12;

function highestOf({ heights }: Points, kept: readonly number[]): number {
  let best = kept[0] ?? 0;
  for (const i of kept) if ((heights[i] ?? 0) > (heights[best] ?? 0)) best = i;
  return best;
}

/** How far the second highest reading lies below the highest: large where the readings come too seldom for the rock. */
function secondFall({ heights }: Points, kept: readonly number[], top: number): number {
  let second = Number.NEGATIVE_INFINITY;
  for (const i of kept) if (i !== top) second = Math.max(second, heights[i] ?? 0);
  return (heights[top] ?? 0) - second;
}

function placed(
  points: Points,
  shape: Shape,
  time: number,
  of: Middle & { readonly turn: Turn; readonly isCurved: boolean },
): Peak | null {
  const { middle, half, turn, sign, isCurved } = of;
  const { kept, quartic, highest } = shape;
  const rise = quartic.at(time);
  const square = middle.value ** 2 + 2 * middle.value * sign * rise;
  if (!(square > 0)) return null;
  const { nearby, misfit, freedom } = residualsOf(points, shape, time, rise);
  const top = highestOf(points, kept);
  const alone = secondFall(points, kept, top);
  const placing = quartic.varianceAt(time);
  const unsure = Math.hypot(HAND.beyond * Math.max(0, rise - highest), HAND.isolated * alone);
  const short = HAND.short * Math.sqrt(Math.max(0, placing + unsure ** 2 - HAND.tremor ** 2));
  return {
    at: millis(middle.at + time * half),
    value: mm(Math.sqrt(square) + sign * short),
    reached: points.values[top] ?? middle.value,
    alone,
    placing,
    shape: unsure,
    misfit,
    freedom,
    sharedRounding: (Math.abs(nearby) * middle.step) / Math.sqrt(12),
    height: heightOf(turn),
    sides: [turn.height - turn.rise, turn.height - turn.fall],
    isCurved,
    halfSpan: half,
    from: kept.map((i) => points.places[i] ?? 0),
    rejected: kept.length === points.places.length ? NONE : points.places.filter((_, i) => !kept.includes(i)),
  };
}

const NONE: readonly number[] = [];

/**
 * How far the readings lie from the shape (chi squared, for how many degrees of freedom), and how much those that share the
 * peak's rounding weigh in it.
 */
function residualsOf(
  { times, heights, step }: Points,
  { kept, weights, quartic }: Shape,
  time: number,
  rise: number,
) {
  let [nearby, misfit, used] = [0, 0, 0];
  for (const i of kept) {
    const [at, height, weight] = [times[i] ?? 0, heights[i] ?? 0, weights[i] ?? 0];
    if (rise - height < step / 2) nearby += weight * quartic.covarianceAt(at, time);
    misfit += weight * (height - quartic.at(at)) ** 2;
    used += weight * quartic.varianceAt(at);
  }
  return { nearby, misfit, freedom: Math.max(0, kept.length - used) };
}
