// The capture's parts against their definitions: the plain loops that run for every top say what the textbook's matrices and sets say.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Reading } from '../../src/core/measure/reading.ts';
import { AGREEMENT, type Agreement, agreementOf } from '../../src/core/measure/rocking-agreement.ts';
import { DRIFT, driftOf } from '../../src/core/measure/rocking-drift.ts';
import { LEVEL, levelOf } from '../../src/core/measure/rocking-level.ts';
import { type CaptureSettings, defaultSettings, type Side } from '../../src/core/measure/rocking-settings.ts';
import { HAND, type Sample, type Top, topOf } from '../../src/core/measure/rocking-top.ts';
import { millis, mm } from '../../src/core/units.ts';

const steps = (least: number, most: number, step: number) =>
  fc.integer({ min: Math.round(least / step), max: Math.round(most / step) }).map((count) => count * step);
const settings = fc
  .record({
    side: fc.constantFrom<Side>('bore', 'outside'),
    tolerance: fc.constantFrom(0.01, 0.03, 0.05),
    leastTops: fc.constantFrom(2, 3, 4),
  })
  .map(({ side, ...own }) => ({ ...defaultSettings(side), ...own }) as CaptureSettings);
const someTops = fc
  .array(
    fc.record({
      off: fc.oneof({ weight: 5, arbitrary: steps(-0.06, 0.06, 0.005) }, steps(-1.5, 1.5, 0.1)),
      reached: steps(-0.02, 0.03, 0.005),
      standard: fc.constantFrom(0.002, 0.004, 0.006, 0.0119, 0.012, 0.02, 0.045, 0.046, 0.08),
      height: fc.oneof(steps(0.01, 0.1, 0.01), steps(0.1, 2, 0.1)),
      sharedRounding: fc.constantFrom(0.001, 0.002),
    }),
    { maxLength: 9 },
  )
  .map((all) =>
    all.map(({ off, reached, ...of }): Top => {
      const rest = { at: millis(0), halfSpan: 200, misfit: 0, freedom: 4, from: [], thrown: [] };
      return { ...rest, ...of, value: mm(42.3 + off), reached: mm(42.3 + off + reached) };
    }),
  );

/** What agreement is, said with sets; the same figures, none of the code. */
function agreed(tops: readonly Top[], { side, tolerance, leastTops }: CaptureSettings, step: number) {
  const further = side === 'bore' ? 1 : -1;
  const most = Math.max(tolerance, 2 * step);
  const clear = tops.filter((top) => top.standard <= AGREEMENT.clear * most);
  const down = [...clear].sort((a, b) => further * (b.value - a.value));
  const heights = tops.map((top) => top.height).sort((a, b) => a - b);
  const middle = (heights.length - 1) / 2;
  const median = ((heights[Math.floor(middle)] ?? 0) + (heights[Math.ceil(middle)] ?? 0)) / 2;
  const strict = (heights.at(-2) ?? 0) < AGREEMENT.shallow.steps * step;
  const ofHeight = strict ? AGREEMENT.shallow.ofHeight : AGREEMENT.ofHeight;
  const span = Math.min(most, Math.max((strict ? 1.2 : 1.5) * step, ofHeight * median)) + 1e-12;
  const groups = down.map((from, at) =>
    down.slice(at).filter((top) => further * (from.value - top.value) <= span),
  );
  const largest = Math.max(0, ...groups.map((group) => group.length));
  const supported =
    groups.find(({ length }) => length >= leastTops) ?? groups.find(({ length }) => length === largest);
  const leader = supported?.[0];
  if (!supported || !leader) return null;
  const nearby = tops.filter((top) => Math.abs(top.value - leader.value) <= AGREEMENT.near * leader.value);
  const pastOf = (top: Top) => further * (top.value - leader.value);
  const reachOf = (top: Top) => further * (top.reached - leader.value);
  const beyond = nearby.filter(
    (top) =>
      !supported.includes(top) &&
      ((top.standard <= AGREEMENT.clear * most && pastOf(top) > 0) || reachOf(top) > AGREEMENT.readingBeyond),
  );
  const excess = Math.min(...beyond.map((top) => Math.max(pastOf(top), reachOf(top))));
  const firm = supported.filter(
    ({ standard }) => standard <= AGREEMENT.firm * tolerance && AGREEMENT.firmness * standard <= excess,
  );
  const share = strict ? AGREEMENT.shallow.share : AGREEMENT.share;
  return {
    agreeing: supported,
    nearby,
    beyond,
    closed:
      supported.length >= leastTops &&
      beyond.length <= Math.floor(firm.length / AGREEMENT.perBeyond) &&
      supported.length >= share * nearby.length,
    spread:
      Math.max(...supported.map(({ value }) => value)) - Math.min(...supported.map(({ value }) => value)),
    sharedRounding: supported.reduce((sum, top) => sum + top.sharedRounding / supported.length, 0),
  };
}

type Compared = Pick<Agreement, 'agreeing' | 'nearby' | 'beyond' | 'closed'> & {
  readonly spread: number;
  readonly sharedRounding: number;
};
const plainly = ({ agreeing, nearby, beyond, closed, spread, sharedRounding }: Compared) => ({
  agreeing: agreeing.map(({ value }) => value).sort(),
  nearby,
  beyond,
  closed,
  figures: [spread, sharedRounding].map((figure) => figure.toFixed(9)),
});

describe('which tops agree', () => {
  test('is the farthest level that enough tops support, and what speaks against it', () => {
    let closed = 0;
    fc.assert(
      fc.property(someTops, settings, fc.constantFrom(0.01, 0.02), (tops, of, step) => {
        const expected = agreed(tops, of, step);
        const found = agreementOf(tops, of, step);
        if (found?.closed) closed += 1;
        if (!expected || !found) expect(found).toBe(expected);
        else expect(plainly(found)).toEqual(plainly(expected));
      }),
      { numRuns: 600 },
    );
    expect(closed).toBeGreaterThan(20);
  });

  test('their level is the mean of what each makes likely, a low top saying less than a high one', () => {
    const fine = fc.array(fc.tuple(steps(-0.03, 0.03, 0.003), fc.constantFrom(0.004, 0.006, 0.01)), {
      minLength: 1,
      maxLength: 6,
    });
    fc.assert(
      fc.property(fine, fc.constantFrom(1, -1), (all, sign) => {
        const tops = all.map(([off, standard]) => ({ value: mm(42.3 + off), standard }) as Top);
        const scaled = (by: number) => integrated(all.map(([off, own]) => [sign * (42.3 + off), own * by]));
        const first = scaled(1);
        const squares = all.reduce(
          (sum, [off, own]) => sum + Math.max(-LEVEL.knee, (sign * (42.3 + off) - first.mean) / own) ** 2,
          0,
        );
        const freedom = LEVEL.before + all.length - 1;
        const expected = scaled(Math.sqrt((LEVEL.before + squares) / freedom));
        const found = levelOf(tops, sign);
        const finest = Math.min(...all.map(([, own]) => own));
        expect(Math.abs(found.height - expected.mean)).toBeLessThan(0.06 * finest);
        expect(found.standard / expected.deviation).toBeCloseTo(1, 1);
        expect(found.degreesOfFreedom).toBe(freedom);
      }),
      { numRuns: 40 },
    );
  });
});

/** Mean and deviation of a level by fine sums: normal above it and down to the knee, from there exponential. */
function integrated(tops: readonly (readonly [height: number, standard: number])[]) {
  const finest = Math.min(...tops.map(([, own]) => own));
  const low = Math.min(...tops.map(([height]) => height)) - 3 * finest;
  const high = Math.max(...tops.map(([height]) => height)) + 3 * finest;
  const levels = Array.from({ length: 2001 }, (_, i) => low + ((high - low) * i) / 2000);
  const costs = levels.map((level) =>
    tops.reduce((sum, [height, own]) => {
      const off = (height - level) / own;
      return sum + (off < -LEVEL.knee ? LEVEL.knee * (-off - LEVEL.knee / 2) : off ** 2 / 2);
    }, 0),
  );
  const least = Math.min(...costs);
  const weights = costs.map((cost) => Math.exp(least - cost));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = levels.reduce((sum, level, i) => sum + level * ((weights[i] ?? 0) / total), 0);
  const variance = levels.reduce(
    (sum, level, i) => sum + (level - mean) ** 2 * ((weights[i] ?? 0) / total),
    0,
  );
  return { mean, deviation: Math.sqrt(variance) };
}

test('tops drift when a straight line through them explains their change many times over', () => {
  let drifting = 0;
  fc.assert(
    fc.property(
      fc.array(steps(-0.02, 0.02, 0.002), { minLength: 3, maxLength: 9 }),
      steps(-0.02, 0.02, 0.002),
      settings,
      (noise, slope, of) => {
        const values = noise.map((off, i) => 42.3 + slope * i + off / 2);
        const found = driftOf(
          values.map((value) => ({ value }) as Top),
          of,
        );
        // The line by its normal equations: slope and intercept from sums, what is left by Pythagoras.
        const n = values.length;
        const [x, y] = [(n - 1) / 2, values.reduce((a, b) => a + b, 0) / n];
        const xx = values.reduce((sum, _, i) => sum + i * i, 0) - n * x * x;
        const xy = values.reduce((sum, value, i) => sum + (value - y) * i, 0);
        const yy = values.reduce((sum, value) => sum + (value - y) ** 2, 0);
        const change = (xy / xx) * (n - 1);
        const left = yy - xy ** 2 / xx;
        const deviation = Math.sqrt(Math.max(left, 0) / (n - 2) / xx);
        const large = Math.abs(change) - DRIFT.share * of.tolerance;
        const sure = Math.abs(xy / xx) - DRIFT.sure * deviation;
        // Too near to either bound for two ways of adding up to agree.
        if (Math.abs(large) < 1e-9 || Math.abs(sure) < 1e-9 * n) return;
        if (n < DRIFT.tops || large < 0 || sure < 0) expect(found).toBeNull();
        else {
          drifting += 1;
          expect(found).toEqual({ kind: 'drifting', change: expect.closeTo(change, 9), tops: n });
        }
      },
    ),
    { numRuns: 300 },
  );
  expect(drifting).toBeGreaterThan(20);
});

/** One rock as it is shown: chords of an offset that moves like a swing, rounded to steps, some readings off. */
const crowns = fc
  .record({
    side: fc.constantFrom<Side>('bore', 'outside'),
    diameter: fc.double({ min: 20, max: 90, noNaN: true }),
    reach: fc.double({ min: 0.8, max: 4, noNaN: true }),
    phase: fc.double({ min: -0.4, max: 0.4, noNaN: true }),
    count: fc.integer({ min: 3, max: 14 }),
    every: fc.integer({ min: 20, max: 140 }),
    noise: fc.array(fc.integer({ min: -1, max: 1 }), { minLength: 14, maxLength: 14 }),
    spoilt: fc.option(fc.integer({ min: 0, max: 13 })),
  })
  .map(({ side, diameter, reach, phase, count, every, noise, spoilt }) => {
    const sign = side === 'bore' ? -1 : 1;
    return {
      side,
      samples: Array.from({ length: count }, (_, i): Sample => {
        const e = (reach * ((2 * i) / (count - 1) - 1 + phase)) / 2;
        const shown = Math.round(Math.sqrt(diameter ** 2 + sign * 4 * e * e) * 100) + (noise[i] ?? 0);
        const value = mm((shown + (spoilt === i ? 30 : 0)) / 100);
        const at = millis(1000 + every * i);
        const reading: Reading = { value, unit: 'mm', step: mm(0.01), text: String(value), at };
        return { place: 70 + i, reading };
      }),
    };
  });

/** C = (X'WX + P)^-1 and b = C (X'Wy + P m), by solving for each column; the textbook's way, for the test alone. */
function posterior(
  rows: readonly (readonly number[])[],
  seen: readonly number[],
  weights: readonly number[],
  priors: readonly (readonly [mean: number, spread: number])[],
) {
  const normal = priors.map(([, spread], i) =>
    priors.map((_, j) =>
      rows.reduce(
        (sum, row, k) => sum + (weights[k] ?? 0) * (row[i] ?? 0) * (row[j] ?? 0),
        i === j ? spread ** -2 : 0,
      ),
    ),
  );
  const right = priors.map(([mean, spread], i) =>
    rows.reduce(
      (sum, row, k) => sum + (weights[k] ?? 0) * (row[i] ?? 0) * (seen[k] ?? 0),
      mean / spread ** 2,
    ),
  );
  const columns = priors.map((_, i) =>
    solve(
      normal,
      priors.map((__, j) => (i === j ? 1 : 0)),
    ),
  );
  return {
    b: solve(normal, right),
    along: (row: readonly number[], other = row) =>
      inner(
        row,
        columns.map((column) => inner(column, other)),
      ),
  };
}
const inner = (a: readonly number[], b: readonly number[]) =>
  a.reduce((sum, x, i) => sum + x * (b[i] ?? 0), 0);
function solve(matrix: readonly (readonly number[])[], right: readonly number[]): readonly number[] {
  if (right.length === 1) return [(right[0] ?? 0) / (matrix[0]?.[0] ?? 1)];
  // Cholesky-free elimination of the first unknown, then the rest.
  const [[pivot = 1, ...first] = [], ...below] = matrix;
  const rest = solve(
    below.map(([lead = 0, ...row]) => row.map((x, j) => x - (lead * (first[j] ?? 0)) / pivot)),
    right.slice(1).map((y, i) => y - ((below[i]?.[0] ?? 0) * (right[0] ?? 0)) / pivot),
  );
  return [((right[0] ?? 0) - inner(first, rest)) / pivot, ...rest];
}

/** The top of these samples by the definitions in rocking-top, `kept` being those it did not throw out. */
function defined(
  samples: readonly Sample[],
  centre: number,
  kept: readonly Sample[],
  height: number,
  side: Side,
) {
  const sign = side === 'bore' ? 1 : -1;
  const middle = samples[centre]?.reading;
  const [first, last] = [samples[0]?.reading, samples.at(-1)?.reading];
  if (!middle || !first || !last) throw new Error('no samples');
  const half = Math.max(middle.at - first.at, last.at - middle.at);
  const r = middle.value;
  const heightOf = ({ reading: { value } }: Sample) => (sign * (value ** 2 - r ** 2)) / (2 * r);
  const runs = (sample: Sample) => {
    const at = samples.indexOf(sample);
    const same = (i: number) => samples[i]?.reading.value === sample.reading.value;
    let length = 1;
    for (let i = at - 1; same(i); i--) length++;
    for (let i = at + 1; same(i); i++) length++;
    return length;
  };
  const heights = kept.map(heightOf);
  const highest = Math.max(...heights);
  const fall = Math.max(height / 4, highest - Math.min(...heights));
  const reach = Math.min(1, fall / height);
  const times = kept.map(({ reading }) => (reading.at - middle.at) / half);
  const powers = (t: number) => [0, 1, 2, 3, 4].map((power) => t ** power);
  const weights = kept.map(
    (sample, i) =>
      1 /
      ((sample.reading.step ** 2 / 12 + HAND.tremor ** 2) * runs(sample) +
        (HAND.unfollowed * (highest - (heights[i] ?? 0))) ** 2),
  );
  const fit = posterior(times.map(powers), heights, weights, [
    [0, 10 * fall],
    [0, 4 * fall],
    [0, 8 * fall],
    [0, (HAND.cubic.least + HAND.cubic.more * reach) * fall],
    [HAND.quartic.mean * reach * fall, (HAND.quartic.least + HAND.quartic.more * reach) * fall],
  ]);
  return { fit, weights, times, heights, powers, half, middle, r, sign, highest };
}

describe('the top of one rock', () => {
  test('is where the fitted quartic turns, as high and as sure as least squares and what is known beforehand make it', () => {
    let [compared, threw] = [0, 0];
    fc.assert(
      fc.property(crowns, fc.constantFrom(0.05, 0.3, 1), ({ side, samples }, height) => {
        const sign = side === 'bore' ? 1 : -1;
        const values = samples.map(({ reading }) => sign * reading.value);
        const centre = values.indexOf(Math.max(...values));
        const top = topOf(samples, centre, height, side);
        if (!top) return;
        const kept = samples.filter(({ place }) => !top.thrown.includes(place));
        expect(top.from).toEqual(kept.map(({ place }) => place));
        const { fit, weights, times, heights, powers, half, middle, r, highest } = defined(
          samples,
          centre,
          kept,
          height,
          side,
        );
        const turn = (top.at - middle.at) / half;
        const rise = inner(powers(turn), fit.b);
        // Turned: no slope there, and lower to either side of it.
        const slope = inner([0, 1, 2 * turn, 3 * turn ** 2, 4 * turn ** 3], fit.b);
        expect(Math.abs(slope)).toBeLessThan(1e-4);
        for (const aside of [-0.02, 0.02])
          expect(inner(powers(turn + aside), fit.b)).toBeLessThan(rise + 1e-9);
        expect(top.value).toBeCloseTo(Math.sqrt(r ** 2 + sign * 2 * r * rise), 7);
        const left = times.map((t, i) => (heights[i] ?? 0) - inner(powers(t), fit.b));
        const misfit = left.reduce((sum, off, i) => sum + (weights[i] ?? 0) * off ** 2, 0);
        const used = times.reduce((sum, t, i) => sum + (weights[i] ?? 0) * fit.along(powers(t)), 0);
        expect(top.misfit).toBeCloseTo(misfit, 5);
        expect(top.freedom).toBeCloseTo(Math.max(0, kept.length - used), 5);
        const own = fit.along(powers(turn)) * ((2 + misfit) / (2 + top.freedom));
        const [, second = Number.NEGATIVE_INFINITY] = [...heights].sort((a, b) => b - a);
        const alone = HAND.isolated * (highest - second);
        const above = HAND.beyond * Math.max(0, rise - highest);
        expect(top.standard).toBeCloseTo(Math.sqrt(own + above ** 2 + alone ** 2), 6);
        const nearby = times.reduce((sum, t, i) => {
          const near = rise - (heights[i] ?? 0) < 0.005;
          return near ? sum + (weights[i] ?? 0) * fit.along(powers(t), powers(turn)) : sum;
        }, 0);
        expect(top.sharedRounding).toBeCloseTo((Math.abs(nearby) * 0.01) / Math.sqrt(12), 6);
        expect(sign * top.reached).toBe(Math.max(...kept.map(({ reading }) => sign * reading.value)));
        expect([top.height, top.halfSpan]).toEqual([height, half]);
        // None that was kept lies too far off what the others say of it, unless no more may be thrown out.
        const most = Math.max(1, Math.floor(samples.length / 4));
        if (kept.length > 4 && top.thrown.length < most)
          for (const [i, off] of left.entries()) {
            const apart = 1 - (weights[i] ?? 0) * fit.along(powers(times[i] ?? 0));
            expect((Math.abs(off) * Math.sqrt(weights[i] ?? 0)) / Math.sqrt(apart)).toBeLessThan(
              HAND.outlying + 1e-6,
            );
          }
        compared += 1;
        threw += top.thrown.length;
      }),
      { numRuns: 250 },
    );
    expect(compared).toBeGreaterThan(100);
    expect(threw).toBeGreaterThan(5);
  });

  test('is none where the readings show none', () => {
    const at = (values: readonly number[], every = 100) =>
      values.map((value, i): Sample => {
        const reading: Reading = {
          value: mm(value),
          unit: 'mm',
          step: mm(0.01),
          text: '',
          at: millis(every * i),
        };
        return { place: i, reading };
      });
    expect(topOf(at([42.1, 42.3, 42.1]), 1, 0.2, 'bore')).not.toBeNull();
    expect(topOf(at([42.1, 42.3]), 1, 0.2, 'bore')).toBeNull();
    expect(topOf(at([42.1, 42.3, 42.1], 0), 1, 0.2, 'bore')).toBeNull();
    expect(topOf(at([42, 42.1, 42.2, 42.3, 42.4]), 4, 0.2, 'bore')).toBeNull();
    expect(topOf(at([42.4, 42.3, 42.2, 42.1, 42]), 0, 0.2, 'bore')).toBeNull();
    expect(topOf(at([-42.3, -42.1, -42.3]), 1, 0.2, 'bore')).toBeNull();
    expect(topOf([], 0, 0.2, 'bore')).toBeNull();
  });

  test('leaves out a quarter of its readings at most, and none of four', () => {
    const thrownWith = (count: number, ...spiked: readonly number[]) => {
      const middle = (count - 1) / 2;
      const samples = Array.from({ length: count }, (_, i): Sample => {
        const value = mm(42.3 - 0.002 * (i - middle) ** 2 + (spiked.includes(i) ? 0.5 : 0));
        return { place: i, reading: { value, unit: 'mm', step: mm(0.01), text: '', at: millis(100 * i) } };
      });
      return topOf(samples, Math.round(middle), 1, 'bore')?.thrown;
    };
    expect(thrownWith(9)).toEqual([]);
    expect(thrownWith(9, 3)).toEqual([3]);
    expect(thrownWith(9, 2, 6)).toEqual([2, 6]);
    expect(thrownWith(13, 2, 6, 10)).toEqual([2, 6, 10]);
    expect(thrownWith(7, 1, 5)).toHaveLength(1);
    expect(thrownWith(4, 1)).toEqual([]);
  });
});
