// The peak of one rock: when it was, how high, and how well its readings place it.
import { type Length, type Millis, millis, mm } from '../units.ts';
import { type Side, signOf } from './capture-settings.ts';
import { type Prior, type Quartic, quarticFit } from './quartic.ts';
import type { Reading } from './reading.ts';
import { between, itemAt, type Series } from './reading.ts';
import type { Turn } from './turns.ts';

/** A reading, and its place among all readings of the capture. */
export interface Sample {
  readonly place: number;
  readonly reading: Reading;
}

/** The readings followed without a break: those accepted, from `start` of them on. */
export interface Run {
  readonly accepted: Series<Sample>;
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

/** The peak at this turn of the run, or null where its readings show none: no largest inside them, or none that they place. */
export function peakAt(run: Run, turn: Turn, side: Side): Peak | null {
  const sign = signOf(side);
  const [start, end] = [flankEnd(run, turn, sign, -1), flankEnd(run, turn, sign, 1)];
  const near = between(run.accepted, start, end + 1);
  const middle = itemAt(run.accepted, turn.place)?.reading;
  const [first, last] = [near[0]?.reading, near.at(-1)?.reading];
  if (!middle || !first || !last || near.length < 3 || middle.value <= 0) return null;
  const half = Math.max(middle.at - first.at, last.at - middle.at);
  const points = pointsOf(near, middle, half, sign);
  const shape = withoutOutliers(points, middle.step, Math.max(heightOf(turn), middle.step));
  const time = shape && turnOf(shape);
  if (!shape || time === null) return null;
  const beside = between(run.accepted, Math.max(run.start, start - 1), end + 2);
  const from = shape.kept.map(({ place }) => place);
  const rejected = points.map(({ place }) => place).filter((place) => !from.includes(place));
  return placed(shape, time, {
    middle,
    half,
    turn,
    sign,
    isCurved: isCurved(beside, turn, sign),
    from,
    rejected,
  });
}

/** How far to one side the readings belong to this peak: to the first that falls out of its flank. */
function flankEnd({ accepted, start }: Run, turn: Turn, sign: number, direction: 1 | -1): number {
  const height = Math.min(Math.max(turn.rise, turn.fall), 2 * heightOf(turn));
  const floor = turn.height - FLANKS.share * height;
  let below = 0;
  let index = turn.place;
  for (let count = 0; count < FLANKS.most; count++) {
    const next = index + direction;
    const value = next < start ? undefined : itemAt(accepted, next)?.reading.value;
    if (value === undefined || (count > 0 && sign * value > turn.height)) break;
    below = sign * value < floor ? below + 1 : 0;
    if (below > 0 && count >= 1) return below > 1 ? index : next;
    index = next;
  }
  return index;
}

const heightOf = (turn: Turn): number => Math.min(turn.rise, turn.fall);

/** Jaws that cross the diameter are seen on the way; a value that only jumps between two sizes has no flanks. */
const isCurved = (near: readonly Sample[], turn: Turn, sign: number): boolean =>
  near.some(({ reading: { value, step } }) => {
    const below = turn.height - sign * value;
    const height = heightOf(turn);
    return below > Math.max(FLANKS.from * height, 1.5 * step) && below < FLANKS.to * height;
  });

/** A reading near a peak. */
interface Point {
  readonly place: number;
  readonly value: Length;
  /** From -1 to 1. */
  readonly time: number;
  /** (v^2 - r^2) / 2r, positive toward the peak: a chord's square falls as the square of the offset. */
  readonly height: number;
  /** Of its rounding and tremor, times how many in a row show the same: together they carry one rounding. */
  readonly variance: number;
}

const pointsOf = (near: readonly Sample[], middle: Reading, half: number, sign: 1 | -1): readonly Point[] =>
  near.map(({ place, reading: { value, step, at } }, i) => {
    let [from, to] = [i, i];
    while (near[from - 1]?.reading.value === value) from--;
    while (near[to + 1]?.reading.value === value) to++;
    return {
      place,
      value,
      time: (at - middle.at) / half,
      height: (sign * (value - middle.value) * (value + middle.value)) / (2 * middle.value),
      variance: (step ** 2 / 12 + HAND.tremor ** 2) * (to - from + 1),
    };
  });

/** A quartic through the points that were kept. */
interface Shape {
  readonly kept: readonly (Point & { readonly weight: number })[];
  readonly quartic: Quartic;
}

function shapeOf(points: readonly Point[], step: number, height: number): Shape | null {
  const highest = Math.max(...points.map((point) => point.height));
  let fall = height / 4;
  const kept = points.map((point) => {
    const below = Math.max(0, highest - step - point.height);
    fall = Math.max(fall, below);
    const { place, value, time, height, variance } = point;
    const weight = 1 / (variance + (HAND.unfollowed * below) ** 2);
    return { place, value, time, height, variance, weight };
  });
  const quartic = quarticFit(kept, priorsOf(fall, Math.min(1, fall / height)));
  return quartic && { kept, quartic };
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
function withoutOutliers(points: readonly Point[], step: number, height: number): Shape | null {
  let shape = shapeOf(points, step, height);
  for (let left = Math.max(1, Math.floor(points.length / 4)); shape && left > 0; left--) {
    const worst = shape.kept.length > 4 ? outlierOf(shape) : null;
    if (!worst) return shape;
    shape = shapeOf(
      shape.kept.filter((point) => point !== worst),
      step,
      height,
    );
  }
  return shape;
}

/** The reading farthest from what the others say of it, in its own standard deviations, if it is too far. */
function outlierOf({ kept, quartic }: Shape): Point | null {
  let [worst, farthest]: [Point | null, number] = [null, HAND.outlying];
  for (const point of kept) {
    const { time, height, weight } = point;
    const apart = Math.max(1 - weight * quartic.varianceAt(time), 1e-9);
    const off = Math.abs(height - quartic.at(time)) * Math.sqrt(weight / apart);
    if (off > farthest) [worst, farthest] = [point, off];
  }
  return worst;
}

const PARTS = 12;

/** The time of the fitted shape's largest value between the neighbours of its highest reading; null where it has none inside. */
function turnOf({ kept, quartic }: Shape): number | null {
  const times = kept.map(({ time }) => time);
  const fitted = times.map(quartic.at);
  const highest = fitted.indexOf(Math.max(...fitted));
  const beside = times.slice(Math.max(0, highest - 1), highest + 2);
  const start = Math.min(...beside);
  const part = (Math.max(...beside) - start) / PARTS;
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

interface Found extends Pick<Peak, 'isCurved' | 'from' | 'rejected'> {
  readonly middle: Reading;
  readonly half: number;
  readonly turn: Turn;
  readonly sign: 1 | -1;
}

/** The peak of a shape that turns at this time; null where it is not above nothing. */
function placed({ kept, quartic }: Shape, time: number, of: Found): Peak | null {
  const { middle, half, turn, sign, isCurved, from, rejected } = of;
  const rise = quartic.at(time);
  const square = middle.value ** 2 + 2 * middle.value * sign * rise;
  const [top, second] = kept.toSorted((a, b) => b.height - a.height);
  if (!(square > 0) || !top || !second) return null;
  const placing = quartic.varianceAt(time);
  const alone = top.height - second.height;
  const shape = Math.hypot(HAND.beyond * Math.max(0, rise - top.height), HAND.isolated * alone);
  const short = HAND.short * Math.sqrt(Math.max(0, placing + shape ** 2 - HAND.tremor ** 2));
  let [misfit, nearby, used] = [0, 0, 0];
  for (const { time: at, height, weight } of kept) {
    misfit += weight * (height - quartic.at(at)) ** 2;
    // what readings that share the peak's rounding weigh in it
    if (rise - height < middle.step / 2) nearby += weight * quartic.covarianceAt(at, time);
    used += weight * quartic.varianceAt(at);
  }
  return {
    at: millis(middle.at + time * half),
    value: mm(Math.sqrt(square) + sign * short),
    reached: top.value,
    alone,
    placing,
    misfit,
    freedom: Math.max(0, kept.length - used),
    shape,
    sharedRounding: (Math.abs(nearby) * middle.step) / Math.sqrt(12),
    height: heightOf(turn),
    sides: [turn.height - turn.rise, turn.height - turn.fall],
    isCurved,
    halfSpan: half,
    from,
    rejected,
  };
}
