// Uncertainty: combining by hand-worked figures, the distributions behind it, the clearance's budget, and the four chances.
import { describe, expect, test } from 'vitest';
import {
  combine,
  diameterDoubt,
  meanDoubt,
  ONE_READING,
  rectangular,
} from '../../src/core/measure/uncertainty.ts';
import {
  coverageFactor,
  normalBetween,
  spreadOf,
  studentOf,
  studentShare,
} from '../../src/core/statistics.ts';
import { type BudgetInputs, chancesOf, clearanceDoubt, plainDoubt } from '../../src/core/thread/chances.ts';
import { defaultBounds, limitsOf } from '../../src/core/thread/fit.ts';
import type { Pair } from '../../src/core/thread/pair.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { ofKind } from '../support/of-kind.ts';

const endless = Number.POSITIVE_INFINITY;
const one = (name: string, standard: number, sensitivity = 1, degreesOfFreedom = endless) => ({
  name,
  standard,
  sensitivity,
  degreesOfFreedom,
});

test('three and four make five, the larger is named, shares are of the variance', () => {
  const combined = combine([one('three', 3), one('four', 2, -2)]);
  expect(combined.standard).toBe(5);
  expect(combined.largest.name).toBe('four');
  expect(combined.shares.map(({ name }) => name)).toEqual(['four', 'three']);
  expect(combined.shares[0]?.share).toBeCloseTo(16 / 25, 12);
  expect(combined.degreesOfFreedom).toBe(endless);
  expect(combined.expanded95).toBeCloseTo(5 * 1.95996, 4);
});

test('few degrees of freedom widen the interval, many wash out', () => {
  expect(combine([one('few', 1, 1, 4)])).toMatchObject({ degreesOfFreedom: 4 });
  expect(combine([one('few', 1, 1, 4)]).coverageFactor).toBeCloseTo(2.776, 3);
  expect(combine([one('few', 1, 1, 4), one('known', 1)]).degreesOfFreedom).toBeCloseTo(16, 9);
});

test('exact inputs give an uncertainty of 0, never NaN', () => {
  expect(combine([one('exact', 0)])).toMatchObject({ standard: 0, expanded95: 0, degreesOfFreedom: endless });
});

test.each([
  ['an empty list', []],
  ['a negative doubt', [one('x', -1)]],
  ['no number', [one('x', Number.NaN)]],
  ['no degrees of freedom', [one('x', 1, 1, 0)]],
])('%s is a mistake of the program', (_, contributions) => {
  expect(() => combine(contributions)).toThrow(RangeError);
});

test('a mistaken doubt is named with what it counts with', () => {
  const counts = 'contribution "x": standard -1, sensitivity 1, degrees of freedom Infinity';
  expect(() => combine([{ name: 'x', standard: -1 }])).toThrow(counts);
});

test("a diameter's doubt: limit of error, step, zero check, scatter", () => {
  const caliper = { limitOfError: mm(0.03), step: mm(0.01) };
  const scatter = { standard: 0.005, degreesOfFreedom: 3 };
  const all = diameterDoubt({ name: 'bore', caliper, zero: mm(0.004), scatter });
  expect(all.standard).toBeCloseTo(Math.hypot(0.01732, 0.00289, 0.004, 0.005), 5);
  // Welch and Satterthwaite: u^4 / (u_i^4 / nu_i) (JCGM 100:2008, G.4.1, from memory)
  expect(all.degreesOfFreedom).toBeCloseTo((3 * all.standard ** 4) / 0.005 ** 4, 9);
  expect(diameterDoubt({ name: 'spigot', caliper }).shares).toHaveLength(2);
});

test('repeated readings are worth s over the root of n; one alone what one is worth', () => {
  // 50.00, 50.02, 50.04: s = 0.02 (JCGM 100:2008, 4.2.3, from memory)
  expect(meanDoubt([50, 50.02, 50.04])).toEqual({
    standard: expect.closeTo(0.02 / Math.sqrt(3), 9),
    degreesOfFreedom: 2,
  });
  expect(meanDoubt([50, 50.02]).degreesOfFreedom).toBe(1);
  expect(meanDoubt([50])).toEqual({ standard: ONE_READING, degreesOfFreedom: endless });
});

test('mean and deviation, also far from zero', () => {
  expect(spreadOf([1, 2, 3, 4])).toMatchObject({ count: 4, mean: 2.5 });
  expect(spreadOf([1, 2, 3, 4]).deviation).toBeCloseTo(Math.sqrt(5 / 3), 12);
  expect(spreadOf([1e9 + 1, 1e9 + 2, 1e9 + 3]).deviation).toBe(1);
  expect(spreadOf([5])).toEqual({ count: 1, mean: 5, deviation: 0 });
  expect(() => spreadOf([])).toThrow(RangeError);
  expect(() => spreadOf([Number.NaN])).toThrow(RangeError);
});

describe('the clearance', () => {
  const groove = { depth: mm(1), tip: { kind: 'sharp' } } as const;
  const pair: Pair = { pitch: tpi(16), starts: 1, angle: degrees(60), female: groove, male: groove };
  const measured = { standard: mm(0.01), degreesOfFreedom: 5 };
  const exact = { standard: mm(0), degreesOfFreedom: endless };
  const within = (half: number) => ({ female: mm(half), male: mm(half) });
  const limitsIn = (of: Pair) => ofKind('limits', limitsOf(of));
  const doubtOf = (of: Pair, more: Partial<BudgetInputs> = {}) =>
    clearanceDoubt({
      pair: of,
      limits: limitsIn(of),
      bore: measured,
      spigot: measured,
      touchOff: within(0.05),
      ...more,
    });

  test('touch-off counts double for each part and dominates', () => {
    const { standard, largest, bias } = doubtOf(pair);
    expect(standard).toBeCloseTo(Math.hypot(0.01, 0.01, 2 * rectangular(0.05), 2 * rectangular(0.05)), 12);
    expect(largest.name).toBe('touch-off in the bore');
    expect(bias).toBe(0);
  });

  test('two touch-offs alone are a triangle: 95 % lies within 0.776 of its half-width (derived)', () => {
    const alone = doubtOf(pair, { bore: exact, spigot: exact });
    // half-width 4 x 0.05; 1 - (1 - x)^2 = 0.95 at x = 0.7764
    expect(alone.expanded95).toBeCloseTo(0.7764 * 0.2, 2);
  });

  test('one feed is one error: its share in bore and spigot adds before it is squared', () => {
    const fed = { detents: { female: 5, male: 5 }, standardPerDetent: mm(0.002), degreesOfFreedom: 1 };
    const doubt = doubtOf(pair, { bore: exact, spigot: exact, touchOff: within(0), fed });
    expect(doubt.standard).toBeCloseTo(2 * 10 * 0.002, 12);
    expect(doubt.degreesOfFreedom).toBeCloseTo(1, 9);
    // two travels: 12.706 standard uncertainties (JCGM 100:2008, Table G.2, 1 degree of freedom, from memory)
    expect(doubt.expanded95 / doubt.standard).toBeGreaterThan(11);
    expect(doubt.expanded95 / doubt.standard).toBeLessThan(15);
  });

  test('a bias counts by its spread', () => {
    const doubt = doubtOf(pair, { bore: exact, spigot: exact, touchOff: within(0), biasSpread: mm(0.07) });
    expect(doubt.standard).toBeCloseTo(0.07, 12);
    expect(doubt.expanded95).toBeCloseTo(1.96 * 0.07, 4);
    expect(doubt.largest.name).toBe("this setup's bias");
  });

  const blunt = (depth: number) => ({ depth: mm(depth), tip: { kind: 'flat', width: mm(0.6) } }) as const;

  test('at the root only the shallower part counts, where it is the shallower for certain', () => {
    const { shares, bias } = doubtOf({ ...pair, female: blunt(0.8), male: blunt(0.65) });
    expect(shares.find(({ name }) => name === 'touch-off in the bore')?.share).toBe(0);
    expect(shares[0]?.name).toBe('touch-off on the spigot');
    expect(bias).toBe(0);
  });

  test('of two equal depths that are both uncertain the shallower is expected to be less deep than either', () => {
    // the mean of the smaller of two rectangles of half-width w is -w/3 (derived); twice that on the diameter
    const doubt = doubtOf({ ...pair, female: blunt(0.8), male: blunt(0.8) }, { bore: exact, spigot: exact });
    expect(doubt.bias).toBeCloseTo((-2 * 0.05) / 3, 3);
    // its variance is 1/18 of a rectangle's width squared; 95 % lies within 0.443 widths of the mean, where (2/3 - x)^2 = 0.05 (derived)
    expect(doubt.standard).toBeCloseTo(2 * 0.1 * Math.sqrt(1 / 18), 3);
    expect(doubt.expanded95).toBeCloseTo(2 * 0.1 * 0.443, 2);
    expect(doubt.coverageFactor).toBeCloseTo(0.443 * Math.sqrt(18), 1);
    // P(min(x, y) < a) = 1 - (1 - F(a))^2 for two like depths (derived); seized where 2 min(x, y) + 2 w / 3 < -0.04
    const short = (0.05 - (0.04 / 2 + 0.05 / 3)) / 0.1;
    expect(chancesOf(mm(0.04), doubt, defaultBounds).seized).toBeCloseTo(1 - (1 - short) ** 2, 1.5);
    const bore = { standard: mm(0.03), degreesOfFreedom: endless };
    const more = doubtOf({ ...pair, female: blunt(0.8), male: blunt(0.8) }, { bore, spigot: exact });
    expect(more.standard).toBeCloseTo(Math.hypot(doubt.standard, 0.03), 9);
  });
});

test('chances: certain without doubt, even at a bound, and normal with it', () => {
  const known = (standard: number) =>
    plainDoubt({
      bore: { standard, degreesOfFreedom: endless },
      spigot: { standard: 0, degreesOfFreedom: endless },
    });
  expect(chancesOf(mm(0.15), known(0), defaultBounds)).toEqual({ seized: 0, tight: 0, running: 1, loose: 0 });
  expect(chancesOf(mm(0.08), known(0), defaultBounds).running).toBe(1);
  const half = chancesOf(mm(0), known(0.04), defaultBounds);
  expect(half.seized).toBeCloseTo(0.5, 12);
  expect(half.tight).toBeCloseTo(0.47725, 5);
  expect(normalBetween(6, endless, 0, 1) / 9.865876e-10).toBeCloseTo(1, 4);
});

test.each([
  // Student's t: 97.5 and 84.1 % lie below these (JCGM 100:2008, Table G.2, from memory)
  { t: 12.706, freedom: 1, share: 0.975 },
  { t: 1.84, freedom: 1, share: 0.841 },
  { t: 4.303, freedom: 2, share: 0.975 },
  { t: 2.571, freedom: 5, share: 0.975 },
  { t: 1.11, freedom: 5, share: 0.841 },
  { t: 2.086, freedom: 20, share: 0.975 },
])(
  '$share of t with $freedom degrees of freedom lies below $t, within 1.6 points',
  ({ t, freedom, share }) => {
    const student = studentOf(freedom);
    expect(Math.abs(studentShare(t, student) - share)).toBeLessThan(0.016);
    expect(studentShare(-t, student)).toBeCloseTo(1 - studentShare(t, student), 12);
  },
);

test('a chance far out in the tail keeps its digits on either side', () => {
  // the normal's share beyond eight deviations is 6.221e-16 (tables, from memory); the library is within a few percent there
  const off = (share: number) => Math.abs(share / 6.221e-16 - 1);
  expect(off(normalBetween(8, Number.POSITIVE_INFINITY, 0, 1))).toBeLessThan(0.05);
  expect(off(normalBetween(Number.NEGATIVE_INFINITY, -8, 0, 1))).toBeLessThan(0.05);
  expect([0, 1, 2].map((mean) => normalBetween(1, 2, mean, 0))).toEqual([0, 1, 0]);
});

test('a wrong share or wrong degrees of freedom throw', () => {
  for (const confidence of [0, 1, Number.NaN])
    expect(() => coverageFactor(confidence, 5)).toThrow(RangeError);
  for (const degrees of [0, -1, Number.NaN]) expect(() => coverageFactor(0.95, degrees)).toThrow(RangeError);
});
