// The top of one rock: where it was, how high, and how well its readings place it.
import { type Length, type Millis, millis, mm } from '../units.ts';
import {
  dot,
  type Estimate,
  estimate,
  type Numbers,
  type Observation,
  times,
  varianceAlong,
} from './least-squares.ts';
import type { Reading } from './reading.ts';
import type { Side } from './rocking-settings.ts';

/** One reading near a top. */
export interface Sample {
  /** Its place in the capture's readings. */
  readonly place: number;
  readonly reading: Reading;
}

export interface Top {
  readonly at: Millis;
  readonly value: Length;
  /** The reading nearest to the top of those it was found from. */
  readonly reached: Length;
  /** Standard uncertainty from the readings' own noise and the unknown shape of the hand's movement. */
  readonly standard: number;
  /** The part of one step's rounding that every rock across this diameter repeats. */
  readonly sharedRounding: number;
  /** How far it stands above the deeper of its two sides. */
  readonly height: number;
  /** Half the time its readings span. */
  readonly halfSpan: number;
  /** How far its readings lie from the fitted shape: chi squared, and for how many degrees of freedom. */
  readonly misfit: number;
  readonly freedom: number;
  readonly from: readonly number[];
  readonly thrown: readonly number[];
}

/** What is assumed of hands and calipers; our own figures, kept as data. */
export const HAND = {
  /** Standard deviation in mm of a reading under a steady hand, besides its rounding. */
  tremor: 0.003,
  /** Share of the fall below the top that the quartic cannot follow. */
  unfollowed: 0.3,
  /** Cubic and quartic of a rock as shares of its fall: a swing's sine has +0.25 for the quartic; leaning and haste spread both. */
  cubic: { least: 0.2, more: 0.4 },
  quartic: { mean: 0.5, least: 0.15, more: 0.4 },
  /** What the shape adds beyond the highest reading is not known better than to this share. */
  beyond: 0.4,
  /** A highest reading that stands alone may be short of the top by about this share of its lead over the second. */
  isolated: 0.08,
  /** A reading this many standard deviations off the others' shape is thrown out. */
  outlying: 5,
} as const;

interface Point {
  readonly sample: Sample;
  readonly time: number;
  /** (v^2 - r^2) / 2r, positive toward the top: a chord's square falls as the square of the offset. */
  readonly height: number;
  readonly share: number;
}

interface Fitted {
  readonly kept: readonly Point[];
  readonly observations: readonly Observation[];
  readonly estimate: Estimate;
  /** How much each reading has to say of its own fitted height, 0 to 1. */
  readonly leverages: readonly number[];
}

const sign = (side: Side): number => (side === 'bore' ? 1 : -1);
const powers = (t: number): Numbers => [1, t, t * t, t * t * t, t * t * t * t];

/** The quartic and its slope at a time. */
const heightAt = (c: Numbers, t: number): number =>
  (c[0] ?? 0) + t * ((c[1] ?? 0) + t * ((c[2] ?? 0) + t * ((c[3] ?? 0) + t * (c[4] ?? 0))));
const slopeAt = (c: Numbers, t: number): number =>
  (c[1] ?? 0) + t * (2 * (c[2] ?? 0) + t * (3 * (c[3] ?? 0) + t * 4 * (c[4] ?? 0)));

/**
 * The top among these readings (in order of time, of one rock), or null where they show none: no largest inside them,
 * or none that they place. `centre` is the largest reading's index among them, `height` the rock's in mm.
 */
export function topOf(samples: readonly Sample[], centre: number, height: number, side: Side): Top | null {
  const middle = samples[centre]?.reading;
  const first = samples[0]?.reading;
  const last = samples.at(-1)?.reading;
  if (!middle || !first || !last || samples.length < 3 || middle.value <= 0) return null;
  const half = Math.max(middle.at - first.at, last.at - middle.at);
  if (!(half > 0)) return null;
  const points = pointsOf(samples, middle, half, side);
  const fitted = withoutOutliers(points, Math.max(height, middle.step));
  const turn = fitted && turnOf(fitted);
  return fitted && turn !== null ? placed(fitted, turn, { points, middle, half, height, side }) : null;
}

function pointsOf(samples: readonly Sample[], middle: Reading, half: number, side: Side): readonly Point[] {
  const reference = middle.value;
  return samples.map((sample, place) => ({
    sample,
    time: (sample.reading.at - middle.at) / half,
    height:
      (sign(side) * (sample.reading.value - reference) * (sample.reading.value + reference)) /
      (2 * reference),
    share: 1 / runLength(samples, place),
  }));
}

/** How many readings in a row, around this one, show the same: together they carry one rounding. */
function runLength(samples: readonly Sample[], place: number): number {
  const value = samples[place]?.reading.value;
  let start = place;
  let end = place;
  while (start > 0 && samples[start - 1]?.reading.value === value) start--;
  while (samples[end + 1]?.reading.value === value) end++;
  return end - start + 1;
}

function shapeOf(points: readonly Point[], height: number): Fitted | null {
  const highest = highestOf(points).height;
  let fall = height / 4;
  for (const point of points) fall = Math.max(fall, highest - point.height);
  const reach = Math.min(1, fall / height);
  const observations = points.map((point) => ({
    row: powers(point.time),
    seen: point.height,
    weight: 1 / varianceOf(point, highest),
  }));
  const known = (mean: number, spread: number) => ({ mean: mean * fall, weight: 1 / (spread * fall) ** 2 });
  const found = estimate(observations, [
    known(0, 10),
    known(0, 4),
    known(0, 8),
    known(0, HAND.cubic.least + HAND.cubic.more * reach),
    known(HAND.quartic.mean * reach, HAND.quartic.least + HAND.quartic.more * reach),
  ]);
  if (!found) return null;
  const leverages = observations.map((o) => o.weight * varianceAlong(o.row, found.covariance));
  return { kept: points, observations, estimate: found, leverages };
}

const varianceOf = (point: Point, highest: number): number =>
  (point.sample.reading.step ** 2 / 12 + HAND.tremor ** 2) / point.share +
  (HAND.unfollowed * (highest - point.height)) ** 2;

function withoutOutliers(points: readonly Point[], height: number): Fitted | null {
  let fitted = shapeOf(points, height);
  for (let left = Math.max(1, Math.floor(points.length / 4)); fitted && left > 0; left--) {
    const worst = fitted.kept.length > 4 ? outlierOf(fitted) : null;
    if (!worst) return fitted;
    fitted = shapeOf(
      fitted.kept.filter((point) => point !== worst),
      height,
    );
  }
  return fitted;
}

/** The reading farthest from what the others say of it, in its own standard deviations, if it is too far. */
function outlierOf({ kept, observations, leverages, estimate: { coefficients } }: Fitted): Point | null {
  let worst: Point | null = null;
  let farthest: number = HAND.outlying;
  for (const [place, point] of kept.entries()) {
    const o = observations[place];
    if (!o) continue;
    const apart = 1 - (leverages[place] ?? 0);
    const off = Math.abs(o.seen - dot(o.row, coefficients)) * Math.sqrt(o.weight / Math.max(apart, 1e-9));
    if (off > farthest) {
      worst = point;
      farthest = off;
    }
  }
  return worst;
}

/** The time of the fitted shape's largest value between the neighbours of its highest reading; null where it has none inside. */
function turnOf({ kept, estimate: { coefficients } }: Fitted): number | null {
  let highest = 0;
  for (let place = 1; place < kept.length; place++)
    if (fittedAt(kept, place, coefficients) > fittedAt(kept, highest, coefficients)) highest = place;
  const start = kept[Math.max(0, highest - 1)]?.time ?? 0;
  const end = kept[Math.min(kept.length - 1, highest + 1)]?.time ?? 0;
  const part = (end - start) / PARTS;
  if (!(part > 0)) return null;
  let best = 0;
  for (let at = 1; at <= PARTS; at++)
    if (heightAt(coefficients, start + part * at) > heightAt(coefficients, start + part * best)) best = at;
  if (best === 0 || best === PARTS) return null;
  let [low, high] = [start + part * (best - 1), start + part * (best + 1)];
  for (let halving = 0; halving < 24; halving++) {
    const mid = (low + high) / 2;
    if (slopeAt(coefficients, mid) > 0) low = mid;
    else high = mid;
  }
  return low;
}

const PARTS = 12;
const fittedAt = (points: readonly Point[], place: number, coefficients: Numbers): number =>
  heightAt(coefficients, points[place]?.time ?? 0);

/** How far the second highest reading lies below the highest: large where the readings come too seldom for the rock. */
function secondFall(points: readonly Point[]): number {
  const top = highestOf(points);
  let second = Number.NEGATIVE_INFINITY;
  for (const point of points) if (point !== top) second = Math.max(second, point.height);
  return top.height - (points.length > 1 ? second : 0);
}

function highestOf(points: readonly Point[]): Point {
  let [best] = points;
  if (!best) throw new RangeError('no points');
  for (const point of points) if (point.height > best.height) best = point;
  return best;
}

interface Setting {
  readonly points: readonly Point[];
  readonly middle: Reading;
  readonly half: number;
  readonly height: number;
  readonly side: Side;
}

function placed(fitted: Fitted, turn: number, { points, middle, half, height, side }: Setting): Top | null {
  const { kept, observations } = fitted;
  const { coefficients, covariance } = fitted.estimate;
  const row = powers(turn);
  const rise = dot(row, coefficients);
  const square = middle.value ** 2 + 2 * middle.value * sign(side) * rise;
  if (!(square > 0)) return null;
  const leaning = times(covariance, row);
  let [nearby, misfit, used] = [0, 0, 0];
  for (const [place, point] of kept.entries()) {
    const o = observations[place];
    if (!o) continue;
    if (rise - point.height < point.sample.reading.step / 2) nearby += o.weight * dot(o.row, leaning);
    misfit += o.weight * (o.seen - dot(o.row, coefficients)) ** 2;
    used += fitted.leverages[place] ?? 0;
  }
  const freedom = Math.max(0, kept.length - used);
  const reached = highestOf(kept);
  const own = Math.sqrt(dot(row, leaning) * ((2 + misfit) / (2 + freedom)));
  return {
    at: millis(middle.at + turn * half),
    value: mm(Math.sqrt(square)),
    reached: reached.sample.reading.value,
    standard: Math.hypot(
      own,
      HAND.beyond * Math.max(0, rise - reached.height),
      HAND.isolated * secondFall(kept),
    ),
    sharedRounding: (Math.abs(nearby) * middle.step) / Math.sqrt(12),
    height,
    halfSpan: half,
    misfit,
    freedom,
    from: kept.map((point) => point.sample.place),
    thrown: points.filter((point) => !kept.includes(point)).map((point) => point.sample.place),
  };
}
