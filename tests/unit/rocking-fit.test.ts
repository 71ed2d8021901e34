// One peak by plain sums: the weighted quartic with its prior, and what is said of the peak that it places.
import { describe, expect, test } from 'vitest';
import { type Peak, peakAt, type Run } from '../../src/core/measure/peak.ts';
import { quarticFit } from '../../src/core/measure/quartic.ts';
import type { Reading } from '../../src/core/measure/reading.ts';
import { append, between, emptySeries, itemAt, type Series } from '../../src/core/measure/reading.ts';
import type { Turn } from '../../src/core/measure/turns.ts';
import { millis, mm } from '../../src/core/units.ts';

type Matrix = readonly (readonly number[])[];

/** x with A x = b, by elimination without a thought for speed. */
function solved(a: Matrix, b: readonly number[]): readonly number[] {
  const rows = a.map((row, i) => [...row, b[i] ?? 0]);
  for (let column = 0; column < rows.length; column++) {
    const pivot =
      rows.slice(column).sort((p, q) => Math.abs(q[column] ?? 0) - Math.abs(p[column] ?? 0))[0] ?? [];
    rows.splice(rows.indexOf(pivot), 1);
    rows.splice(column, 0, pivot);
    for (const row of rows) {
      const factor = row === pivot ? 0 : (row[column] ?? 0) / (pivot[column] ?? 1);
      for (let k = 0; k < row.length; k++) row[k] = (row[k] ?? 0) - factor * (pivot[k] ?? 0);
    }
  }
  return rows.map((row, i) => (row.at(-1) ?? 0) / (row[i] ?? 1));
}

const dot = (a: readonly number[], b: readonly number[]) =>
  a.reduce((so, one, i) => so + one * (b[i] ?? 0), 0);
const powers = (t: number) => [1, t, t ** 2, t ** 3, t ** 4];

describe('a weighted quartic with a prior', () => {
  const times = [-1, -0.7, -0.5, -0.1, 0.2, 0.6, 1];
  const heights = [-0.9, -0.4, -0.2, 0, 0.05, -0.3, -1.1];
  const weights = [4, 1, 9, 25, 16, 2, 0.5];
  const priors = [0, 0.2, -1, 0, 0.5].map((mean, i) => ({ mean, weight: 0.3 + i }));
  const fit = quarticFit(
    Float64Array.from(times),
    Float64Array.from(heights),
    Float64Array.from(weights),
    priors,
  );
  // C = (X'WX + P)^-1 and b = C (X'Wy + P m)
  const normal = [0, 1, 2, 3, 4].map((i) =>
    [0, 1, 2, 3, 4].map(
      (j) =>
        dot(
          weights,
          times.map((t) => t ** (i + j)),
        ) + (i === j ? (priors[i]?.weight ?? 0) : 0),
    ),
  );
  const right = priors.map(
    ({ mean, weight }, i) =>
      dot(
        weights,
        times.map((t, k) => t ** i * (heights[k] ?? 0)),
      ) +
      weight * mean,
  );
  const coefficients = solved(normal, right);

  test.each([-1, -0.35, 0, 0.8])('at %d it is what plain matrices say', (t) => {
    expect(fit?.at(t)).toBeCloseTo(dot(coefficients, powers(t)), 10);
    const slopes = [0, 1, 2 * t, 3 * t ** 2, 4 * t ** 3];
    expect(fit?.slopeAt(t)).toBeCloseTo(dot(coefficients, slopes), 10);
    expect(fit?.varianceAt(t)).toBeCloseTo(dot(powers(t), solved(normal, powers(t))), 10);
    for (const other of [-0.6, 0.4])
      expect(fit?.covarianceAt(t, other)).toBeCloseTo(dot(powers(t), solved(normal, powers(other))), 10);
  });

  test('there is none where nothing is known of a coefficient', () => {
    const unknown = priors.map(() => ({ mean: 0, weight: 0 }));
    const one = Float64Array.of(1);
    expect(quarticFit(Float64Array.of(0), one, one, unknown)).toBeNull();
    expect(quarticFit(Float64Array.of(0), one, Float64Array.of(Number.POSITIVE_INFINITY), priors)).toBeNull();
  });
});

/** Readings of these values, one each 100 ms, in steps of 0.01 mm, after `before` others that are not of the run. */
function runOf(values: readonly number[], before = 0): Run {
  let readings: Series<Reading> = emptySeries();
  let accepted: Series<number> = emptySeries();
  [...Array.from({ length: before }, () => 99), ...values].forEach((value, place) => {
    readings = append(readings, {
      value: mm(value),
      unit: 'mm',
      step: mm(0.01),
      text: '',
      at: millis(100 * place),
    });
    accepted = append(accepted, place);
  });
  return { readings, accepted, start: before };
}

/** What the file says of a peak of these values, its highest at `middle`, worked out from the values themselves. */
function plainPeak(values: readonly number[], middle: number, sign: number, height: number) {
  const r = values[middle] ?? 0;
  const at = values.map((_, i) => 100 * (i - middle));
  const half = Math.max(...at.map(Math.abs));
  const times = at.map((time) => time / half);
  const heights = values.map((value) => (sign * (value ** 2 - r ** 2)) / (2 * r));
  const same = (i: number) => {
    let [from, to] = [i, i];
    while (values[from - 1] === values[i]) from--;
    while (values[to + 1] === values[i]) to++;
    return to - from + 1;
  };
  const below = heights.map((one) => Math.max(0, Math.max(...heights) - 0.01 - one));
  const weights = values.map(
    (_, i) => 1 / ((0.01 ** 2 / 12 + 0.004 ** 2) * same(i) + (0.3 * (below[i] ?? 0)) ** 2),
  );
  const fall = Math.max(height / 4, ...below);
  const reach = Math.min(1, fall / height);
  const prior = (mean: number, spread: number) => ({ mean: mean * fall, weight: 1 / (spread * fall) ** 2 });
  const fit = quarticFit(Float64Array.from(times), Float64Array.from(heights), Float64Array.from(weights), [
    ...[
      prior(0, 10),
      prior(0, 4),
      prior(0, 8),
      prior(0, 0.2 + 0.4 * reach),
      prior(reach ** 2, 0.15 + 0.4 * reach),
    ],
  ]);
  if (!fit) throw new Error('no fit');
  let [time, width] = [-0.5, 1];
  for (; width > 1e-9; width /= 2) if (fit.slopeAt(time + width / 2) > 0) time += width / 2;
  const rise = fit.at(time);
  const [top = 0, second = 0] = heights.toSorted((a, b) => b - a);
  const placing = fit.varianceAt(time);
  const shape = Math.hypot(0.4 * Math.max(0, rise - top), 0.08 * (top - second));
  const short = 0.2 * Math.sqrt(Math.max(0, placing + shape ** 2 - 0.004 ** 2));
  const near = heights.map((one, i) =>
    rise - one < 0.005 ? (weights[i] ?? 0) * fit.covarianceAt(times[i] ?? 0, time) : 0,
  );
  const used = dot(
    weights,
    times.map((t) => fit.varianceAt(t)),
  );
  return {
    at: 100 * middle + time * half,
    value: Math.sqrt(r ** 2 + 2 * r * sign * rise) + sign * short,
    alone: top - second,
    placing,
    shape,
    misfit: dot(
      weights,
      heights.map((one, i) => (one - fit.at(times[i] ?? 0)) ** 2),
    ),
    freedom: Math.max(0, values.length - used),
    sharedRounding: (Math.abs(near.reduce((so, one) => so + one, 0)) * 0.01) / Math.sqrt(12),
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
      const side = sign === 1 ? 'bore' : 'outside';
      const top = values[5] ?? 0;
      const found = peakAt(runOf(values), { ...turn, height: sign * top }, side);
      // a quarter of 0.5 mm down is 49.875 (or its mirror image): 49.87 and 49.84 are the first beyond
      const from = [2, 3, 4, 5, 6, 7, 8];
      const plain = plainPeak(
        from.map((place) => values[place] ?? 0),
        3,
        sign,
        0.4,
      );
      expect(found).toMatchObject(close({ ...plain, at: plain.at + 200 }));
      expect(found).toMatchObject({ from, rejected: [], height: 0.4, reached: top, isCurved: true });
      expect(found?.sides).toEqual([
        expect.closeTo(sign * top - 0.4, 9),
        expect.closeTo(sign * top - 0.5, 9),
      ]);
    },
  );

  const from = (
    values: readonly number[],
    of: Partial<Turn> = {},
    before = 0,
  ): readonly number[] | undefined =>
    peakAt(runOf(values, before), { ...turn, ...of, place: (of.place ?? turn.place) + before }, 'bore')?.from;

  test('takes nothing from before its run, nor beyond a reading that is higher', () => {
    expect(from(ROCK, {}, 3)?.[0]).toBe(5);
    expect(from(ROCK.slice(3), { place: 2 })).toEqual([0, 1, 2, 3, 4, 5]);
    expect(peakAt(runOf(ROCK.slice(4), 4), { ...turn, place: 5 }, 'bore')?.from[0]).toBe(4);
    expect(from(ROCK.with(3, 50.02))?.[0]).toBe(4);
    expect(from(ROCK.with(7, 50.02))?.at(-1)).toBe(6);
  });

  test('of a rock that is far higher on one side goes by twice the lower one', () => {
    // a quarter of 0.2 mm: down to 49.95
    expect(from(ROCK, { rise: 0.1, fall: 2 })).toEqual([2, 3, 4, 5, 6, 7]);
    expect(from(ROCK, { rise: 2, fall: 0.1 })).toEqual([2, 3, 4, 5, 6, 7]);
  });

  test('rejects a reading that is too large by five standard deviations of what the others say', () => {
    const dense = Array.from({ length: 25 }, (_, i) => 50 - 0.0024 * (i - 12) ** 2);
    /** The peak where this reading is so much too large; the largest of all is where the values turned. */
    const fouled = (by: number, at: number): Peak | null => {
      const values = dense.with(at, (dense[at] ?? 0) + by);
      const height = Math.max(...values);
      return peakAt(runOf(values), { place: values.indexOf(height), height, rise: 0.34, fall: 0.34 }, 'bore');
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

  test('is none where nothing was measured, where the readings end at it, or where they stand still in time', () => {
    expect(from([49.7, 49.8, 49.9, 50], { place: 3 })).toBeUndefined();
    expect(peakAt(runOf(ROCK.slice(5), 0), { ...turn, place: 0 }, 'bore')).toBeNull();
    expect(
      from(
        ROCK.map((value) => value - 50),
        { height: 0 },
      ),
    ).toBeUndefined();
    expect(
      from(
        ROCK.map((value) => value - 60),
        { height: -10 },
      ),
    ).toBeUndefined();
    expect(peakAt(runOf([50, 49.9]), { ...turn, place: 0 }, 'bore')).toBeNull();
    const still = runOf(ROCK);
    const readings = between(still.readings, 0).map((one) => ({ ...one, at: millis(500) }));
    expect(
      peakAt({ ...still, readings: { length: readings.length, shared: readings } }, turn, 'bore'),
    ).toBeNull();
  });

  test('is curved only where a reading was seen between a tenth and nine tenths of its height, or 1.5 steps', () => {
    const curved = (...beside: number[]) => {
      const values = [49.6, 49.6, ...beside, 50, 49.998, 50, ...beside.toReversed(), 49.6, 49.6];
      const place = 2 + beside.length;
      return peakAt(runOf(values), { place, height: 50, rise: 0.4, fall: 0.4 }, 'bore')?.isCurved;
    };
    expect([curved(), curved(49.95), curved(49.965), curved(49.65), curved(49.63)]).toEqual([
      ...[false, true, false, true, false],
    ]);
  });
});

describe('a series', () => {
  const three = [1, 2, 3].reduce((all, item) => append(all, item), emptySeries<number>());

  test('that grows leaves its earlier versions as they were, and an earlier one grows by itself', () => {
    const two = { ...three, length: 2 };
    expect(between(append(two, 9), 0)).toEqual([1, 2, 9]);
    expect(between(three, 0)).toEqual([1, 2, 3]);
    expect(between(append(three, 4), 0)).toEqual([1, 2, 3, 4]);
    expect(append(three, 5).shared).not.toBe(three.shared);
    expect(emptySeries().shared).toEqual([]);
  });

  test('has nothing outside, also where a later version has', () => {
    append(three, 4);
    expect([itemAt(three, 2), itemAt(three, 3), itemAt(three, -1)]).toEqual([3, undefined, undefined]);
    expect(between(three, 1, 99)).toEqual([2, 3]);
    expect(between(three, -2, 2)).toEqual([1, 2]);
  });
});
