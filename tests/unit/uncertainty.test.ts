// Uncertainty: combining by hand-worked figures, the clearance's budget, and the four chances.
import { describe, expect, test } from 'vitest';
import { coverageFactor, normalBetween } from '../../src/core/measure/student.ts';
import {
  combine,
  diameterContributions,
  rectangular,
  resolution,
} from '../../src/core/measure/uncertainty.ts';
import { spreadOf } from '../../src/core/statistics.ts';
import { chancesOf, clearanceBudget } from '../../src/core/thread/chances.ts';
import { defaultBounds, fitOf } from '../../src/core/thread/fit.ts';
import { limitsOf } from '../../src/core/thread/limits.ts';
import type { Pair } from '../../src/core/thread/pair.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';

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

test('nothing in doubt is no doubt, and no NaN', () => {
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

test('a coverage factor of no share or no degrees of freedom is a mistake too', () => {
  expect(() => coverageFactor(1, 5)).toThrow(RangeError);
  expect(() => coverageFactor(0.95, -1)).toThrow(RangeError);
});

test('rectangle and step', () => {
  expect(rectangular(0.03)).toBeCloseTo(0.01732, 5);
  expect(resolution(0.01)).toBeCloseTo(0.002887, 6);
});

test("a diameter's contributions: limit of error, step, agreement, zero, temperature", () => {
  const all = diameterContributions({
    name: 'bore',
    diameter: mm(50),
    caliper: { limitOfError: mm(0.03), step: mm(0.01) },
    tops: { deviation: mm(0.01), count: 4 },
    zero: mm(0.004),
    kelvin: 10,
  });
  expect(all.map(({ standard }) => Number(standard.toFixed(5)))).toEqual([
    0.01732, 0.00289, 0.005, 0.004, 0.00332,
  ]);
  expect(all.map(({ degreesOfFreedom }) => degreesOfFreedom)).toEqual([
    endless,
    endless,
    3,
    endless,
    endless,
  ]);
  const typed = diameterContributions({
    name: 'bore',
    diameter: mm(50),
    caliper: { limitOfError: mm(0.03), step: mm(0.01) },
  });
  expect(typed).toHaveLength(2);
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
  const within = { within: mm(0.05) };

  const budget = (of: Pair) => {
    const limits = limitsOf(of);
    if (limits.kind !== 'limits') throw new Error(limits.kind);
    return clearanceBudget({
      pair: of,
      limits,
      bore: measured,
      spigot: measured,
      touchOff: { female: within, male: within },
    });
  };

  test('touch-off counts double for each part and dominates', () => {
    const { standard, largest } = budget(pair);
    expect(standard).toBeCloseTo(Math.hypot(0.01, 0.01, 2 * rectangular(0.05), 2 * rectangular(0.05)), 12);
    expect(largest.name).toBe('touch-off in the bore');
  });

  test('its sensitivities are those of the fit, by nudging each depth', () => {
    const at = (female: number, male: number): number => {
      const fit = fitOf(
        { ...pair, female: { ...groove, depth: mm(female) }, male: { ...groove, depth: mm(male) } },
        mm(50),
        mm(51),
      );
      return fit.kind === 'fit' ? fit.clearance : Number.NaN;
    };
    expect((at(1.01, 1) - at(1, 1)) / 0.01).toBeCloseTo(2, 9);
    expect((at(1, 1.01) - at(1, 1)) / 0.01).toBeCloseTo(2, 9);
  });

  test('at the root only the shallower part counts', () => {
    const blunt = (depth: number) => ({ depth: mm(depth), tip: { kind: 'flat', width: mm(0.3) } }) as const;
    const shares = budget({ ...pair, female: blunt(1.1), male: blunt(1) }).shares;
    expect(shares.find(({ name }) => name === 'touch-off in the bore')?.share).toBe(0);
    expect(shares[0]?.name).toBe('touch-off on the spigot');
  });

  test('a feed in doubt counts by its detents, a learned bias by its spread', () => {
    const limits = limitsOf(pair);
    if (limits.kind !== 'limits') throw new Error(limits.kind);
    const fed = { detents: 5, standardPerDetent: mm(0.002), degreesOfFreedom: endless };
    const touchOff = { female: { within: mm(0) }, male: { within: mm(0) } };
    const exact = { standard: mm(0), degreesOfFreedom: endless };
    const inputs = { pair, limits, bore: exact, spigot: exact, touchOff };
    expect(clearanceBudget({ ...inputs, fed: { female: fed, male: fed } }).standard).toBeCloseTo(
      0.02 * Math.SQRT2,
      12,
    );
    expect(clearanceBudget({ ...inputs, biasSpread: mm(0.07) }).standard).toBeCloseTo(0.07, 12);
  });
});

test('chances: certain without doubt, even at a bound, and normal with it', () => {
  expect(chancesOf(mm(0.15), 0, defaultBounds)).toEqual({ seized: 0, tight: 0, running: 1, loose: 0 });
  expect(chancesOf(mm(0.08), 0, defaultBounds).running).toBe(1);
  const half = chancesOf(mm(0), 0.04, defaultBounds);
  expect(half.seized).toBeCloseTo(0.5, 12);
  expect(half.tight).toBeCloseTo(0.47725, 5);
  expect(normalBetween(6, endless, 0, 1) / 9.865876e-10).toBeCloseTo(1, 4);
});
