// One peak by plain sums: the weighted quartic with its prior, and what is said of the peak that it places.
import { describe, expect, test } from 'vitest';
import { type Peak, peakAt, type Run } from '../../src/core/measure/peak.ts';
import { type Prior, quarticFit } from '../../src/core/measure/quartic.ts';
import { append, between, emptySeries, itemAt } from '../../src/core/measure/reading.ts';
import type { Turn } from '../../src/core/measure/turns.ts';
import { readingOf } from '../support/readings.ts';

const sumOf = (values: readonly number[]) => values.reduce((so, value) => so + value, 0);
type Points = Parameters<typeof quarticFit>[0];
function fitOf(points: Points, priors: readonly Prior[]) {
  const fit = quarticFit(points, priors);
  if (!fit) throw new Error('no fit');
  return fit;
}

describe('a weighted quartic with a prior', () => {
  const truth = [0.05, -0.2, -1, 0.1, 0.3];
  const truthAt = (t: number) => sumOf(truth.map((coefficient, k) => coefficient * t ** k));
  const times = [-1, -0.7, -0.5, -0.1, 0.2, 0.6, 1];
  const weights = [4, 1, 9, 25, 16, 2, 0.5];
  const points = times.map((time, i) => ({ time, height: truthAt(time), weight: weights[i] ?? 0 }));
  const priors = truth.map((mean, i) => ({ mean, weight: 0.3 + i }));
  const fit = fitOf(points, priors);
  /** How much one more in each height, and in each coefficient expected, lifts the fit at a time. */
  const liftsAt = (t: number) =>
    [
      ...points.map((point, i) => fitOf(points.with(i, { ...point, height: point.height + 1 }), priors)),
      ...priors.map((prior, i) => fitOf(points, priors.with(i, { ...prior, mean: prior.mean + 1 }))),
    ].map((lifted) => lifted.at(t) - fit.at(t));

  test.each([-1, -0.35, 0, 0.8])(
    'at %d goes through what lies on one, as unsure as its data make it',
    (t) => {
      expect(fit.at(t)).toBeCloseTo(truthAt(t), 10);
      expect(fit.slopeAt(t)).toBeCloseTo(sumOf(truth.map((one, k) => k * one * t ** Math.max(0, k - 1))), 10);
      // independent errors: their covariance is the sum of both effects of each over its weight (JCGM 100:2008, 5.2.2 and F.1.2.3, from memory)
      const variances = [...points, ...priors].map(({ weight }) => 1 / weight);
      const together = (other: number) =>
        sumOf(liftsAt(t).map((lift, i) => lift * (liftsAt(other)[i] ?? 0) * (variances[i] ?? 0)));
      expect(fit.varianceAt(t)).toBeCloseTo(together(t), 10);
      for (const other of [-0.6, 0.4]) expect(fit.covarianceAt(t, other)).toBeCloseTo(together(other), 10);
    },
  );

  test('there is none where nothing is known of a coefficient', () => {
    const unknown = priors.map(() => ({ mean: 0, weight: 0 }));
    expect(quarticFit([{ time: 0, height: 1, weight: 1 }], unknown)).toBeNull();
    expect(quarticFit([{ time: 0, height: 1, weight: Number.POSITIVE_INFINITY }], priors)).toBeNull();
  });
});

/** Readings of these values, one each 100 ms, after `before` others that are not of the run. */
function runOf(values: readonly number[], before = 0, every = 100): Run {
  const all = [...new Array<number>(before).fill(99), ...values];
  const shared = all.map((value, place) => ({ place, reading: readingOf(value, every * place) }));
  return { accepted: { length: shared.length, shared }, start: before };
}

/** What the file says of a peak of these values, its highest at `middle`, worked out from the values themselves. */
function plainPeak(values: readonly number[], middle: number, sign: number, height: number) {
  const r = values[middle] ?? 0;
  const half = 100 * Math.max(middle, values.length - 1 - middle);
  const heights = values.map((value) => (sign * (value ** 2 - r ** 2)) / (2 * r));
  const [top = 0, second = 0] = heights.toSorted((a, b) => b - a);
  const below = heights.map((one) => Math.max(0, top - 0.01 - one));
  const points = heights.map((one, i) => {
    const same = values.filter((value) => value === values[i]).length;
    const variance = (0.01 ** 2 / 12 + 0.004 ** 2) * same + (0.3 * (below[i] ?? 0)) ** 2;
    return { time: (100 * (i - middle)) / half, height: one, weight: 1 / variance };
  });
  const fall = Math.max(height / 4, ...below);
  const reach = Math.min(1, fall / height);
  const spreads = [10, 4, 8, 0.2 + 0.4 * reach, 0.15 + 0.4 * reach];
  const fit = fitOf(
    points,
    spreads.map((spread, k) => ({ mean: k === 4 ? reach ** 2 * fall : 0, weight: 1 / (spread * fall) ** 2 })),
  );
  let [time, width] = [-0.5, 1];
  for (; width > 1e-9; width /= 2) if (fit.slopeAt(time + width / 2) > 0) time += width / 2;
  const rise = fit.at(time);
  const placing = fit.varianceAt(time);
  const shape = Math.hypot(0.4 * Math.max(0, rise - top), 0.08 * (top - second));
  const short = 0.2 * Math.sqrt(Math.max(0, placing + shape ** 2 - 0.004 ** 2));
  const near = points.filter((point) => rise - point.height < 0.005);
  return {
    at: 100 * middle + time * half,
    value: Math.sqrt(r ** 2 + 2 * r * sign * rise) + sign * short,
    alone: top - second,
    placing,
    shape,
    misfit: sumOf(points.map((point) => point.weight * (point.height - fit.at(point.time)) ** 2)),
    freedom: Math.max(0, values.length - sumOf(points.map((one) => one.weight * fit.varianceAt(one.time)))),
    sharedRounding:
      (Math.abs(sumOf(near.map((one) => one.weight * fit.covarianceAt(one.time, time)))) * 0.01) /
      Math.sqrt(12),
    halfSpan: half,
  };
}

const close = (figures: Readonly<Record<string, number>>) =>
  Object.fromEntries(
    Object.entries(figures).map(([name, figure]) => [name, expect.closeTo(figure, name === 'at' ? 1 : 6)]),
  );

describe('the peak of a rock', () => {
  const ROCK = [49.6, 49.75, 49.87, 49.95, 49.99, 50, 49.98, 49.92, 49.84, 49.71, 49.5];
  const turn: Turn = { place: 5, height: 50, rise: 0.4, fall: 0.5 };

  test.each([
    ['a bore', ROCK, 1],
    ['a bore that was shown alike twice', ROCK.with(6, 50), 1],
    ['a bore that was shown alike three times', ROCK.with(6, 50).with(4, 50), 1],
    ['an outside', ROCK.map((value) => 100 - value), -1],
    ['a bore whose highest reading stands alone', ROCK.with(5, 50.03), 1],
  ])(
    'of %s is placed by the readings a quarter of its height below, and one more on either side',
    (_, values, sign) => {
      const top = values[5] ?? 0;
      const found = peakAt(runOf(values), { ...turn, height: sign * top }, sign === 1 ? 'bore' : 'outside');
      // a quarter of 0.5 mm down is 49.875 (or its mirror image): 49.87 and 49.84 are the first beyond
      const plain = plainPeak(values.slice(2, 9), 3, sign, 0.4);
      expect(found).toMatchObject({
        ...close({ ...plain, at: plain.at + 200 }),
        from: [2, 3, 4, 5, 6, 7, 8],
        rejected: [],
        height: 0.4,
        reached: top,
        isCurved: true,
        sides: [expect.closeTo(sign * top - 0.4, 9), expect.closeTo(sign * top - 0.5, 9)],
      });
    },
  );

  const peakOf = (values: readonly number[], of: Partial<Turn> = {}, before = 0) =>
    peakAt(runOf(values, before), { ...turn, ...of, place: (of.place ?? turn.place) + before }, 'bore');

  test.each<[why: string, from: readonly number[], () => Peak | null]>([
    ['nothing before its run', [5, 6, 7, 8, 9, 10, 11], () => peakOf(ROCK, {}, 3)],
    ['all where it begins within', [0, 1, 2, 3, 4, 5], () => peakOf(ROCK.slice(3), { place: 2 })],
    ['all of a run that begins within', [4, 5, 6, 7, 8], () => peakOf(ROCK.slice(4), { place: 1 }, 4)],
    ['nothing beyond a higher one before', [4, 5, 6, 7, 8], () => peakOf(ROCK.with(3, 50.02))],
    ['nothing beyond a higher one after', [2, 3, 4, 5, 6], () => peakOf(ROCK.with(7, 50.02))],
    // a quarter of 0.2 mm: down to 49.95
    ['a quarter of twice its lower side', [2, 3, 4, 5, 6, 7], () => peakOf(ROCK, { rise: 0.1, fall: 2 })],
    ['a quarter of twice its lower side', [2, 3, 4, 5, 6, 7], () => peakOf(ROCK, { rise: 2, fall: 0.1 })],
  ])('takes %s: %o', (_, from, peak) => {
    expect(peak()?.from).toEqual(from);
  });

  test('rejects a reading that is too large by five standard deviations of what the others say', () => {
    const dense = Array.from({ length: 25 }, (_, i) => 50 - 0.0024 * (i - 12) ** 2);
    /** The peak where this reading is so much too large; the largest of all is where the values turned. */
    const fouled = (by: number, at: number): Peak | null => {
      const values = dense.with(at, (dense[at] ?? 0) + by);
      const height = Math.max(...values);
      return peakOf(values, { place: values.indexOf(height), height, rise: 0.34, fall: 0.34 });
    };
    expect(fouled(0, 9)?.rejected).toEqual([]);
    expect(fouled(0.02, 9)?.rejected).toEqual([]);
    for (const place of [7, 8, 9, 10, 11]) {
      const found = fouled(0.06, place);
      expect(found?.rejected).toEqual([place]);
      expect(found?.from).not.toContain(place);
      expect(found?.value).toBeCloseTo(50, 3);
    }
  });

  const lower = (by: number) => ROCK.map((value) => value - by);

  test.each([
    ['the readings end at it', () => peakOf([49.7, 49.8, 49.9, 50], { place: 3 })],
    ['they begin at it', () => peakOf(ROCK.slice(5), { place: 0 })],
    ['they are two', () => peakOf([50, 49.9], { place: 0 })],
    ['nothing was measured', () => peakOf(lower(50), { height: 0 })],
    ['it lies below nothing', () => peakOf(lower(60), { height: -10 })],
    ['the readings stand still in time', () => peakAt(runOf(ROCK, 0, 0), turn, 'bore')],
  ])('is none where %s', (_, peak) => {
    expect(peak()).toBeNull();
  });

  test('is curved only where a reading was seen between a tenth and nine tenths of its height, or 1.5 steps', () => {
    const curved = (...beside: number[]) => {
      const values = [49.6, 49.6, ...beside, 50, 49.998, 50, ...beside.toReversed(), 49.6, 49.6];
      return peakOf(values, { place: 2 + beside.length, rise: 0.4, fall: 0.4 })?.isCurved;
    };
    expect([curved(), curved(49.95), curved(49.965), curved(49.65), curved(49.63)]).toEqual([
      ...[false, true, false, true, false],
    ]);
  });
});

test('a growing list keeps each of its versions, also where two grow from one, and has nothing outside', () => {
  const two = append(append(emptySeries<string>(), 'a'), 'b');
  const [c, d] = [append(two, 'c'), append(two, 'd')];
  expect([c, d, two].map((list) => between(list, 0).join(''))).toEqual(['abc', 'abd', 'ab']);
  expect(between({ ...c, length: 1 }, 0)).toEqual(['a']);
  expect([itemAt(two, 1), itemAt(two, 2), itemAt(two, -1)]).toEqual(['b', undefined, undefined]);
  expect([between(c, 1, 9), between(c, -5, 2)].map((items) => items.join(''))).toEqual(['bc', 'ab']);
  expect(emptySeries().shared).toEqual([]);
});
