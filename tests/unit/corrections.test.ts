// How a caliper's readings are corrected: the zero, the lands of its jaws; and what a tapered or oval bore does to a fit.
import { describe, expect, test } from 'vitest';
import { checkZero, jawLandFrom, landCorrected, zeroCorrected } from '../../src/core/measure/corrections.ts';
import { type Reading, stepOf } from '../../src/core/measure/reading.ts';
import { coverageFactor, normalBetween } from '../../src/core/statistics.ts';
import { ovalityOf, pairTaper, tightestOf } from '../../src/core/thread/taper-and-oval.ts';
import { inches, millis, mm } from '../../src/core/units.ts';

const closed = (...values: readonly number[]): readonly Reading[] =>
  values.map((value, place) => ({
    value: mm(value),
    unit: 'mm',
    step: mm(0.01),
    text: value.toFixed(2),
    at: millis(place * 100),
  }));

test('closed jaws that stay within two steps have a zero error: their mean, with its doubt', () => {
  // mean of 0.02 0.02 0.03 0.04 is 0.0275; their squares about it add up to 0.000275
  const check = checkZero(closed(0.02, 0.02, 0.03, 0.04));
  expect(check).toMatchObject({ kind: 'steady', error: expect.closeTo(0.0275, 12) });
  if (check.kind !== 'steady') return;
  expect(check.spread).toBeCloseTo(0.02, 12);
  // s^2/n + d^2/12 (JCGM 100:2008, 4.2.3 and F.2.2.1, from memory)
  expect(check.standard).toBeCloseTo(Math.sqrt(0.000275 / 3 / 4 + 0.01 ** 2 / 12), 12);
});

test('jaws that wander by three steps are no zero, and two readings are too few', () => {
  expect(checkZero(closed(0.02, 0.05, 0.02))).toEqual({
    kind: 'wandering',
    spread: expect.closeTo(0.03, 12),
    allowed: 0.02,
  });
  expect(checkZero(closed(0.02, 0.02))).toEqual({ kind: 'too-few', found: 2, needed: 3 });
  const coarse = closed(0, 0.02, 0.04).map((one, place) => (place === 1 ? { ...one, step: mm(0.02) } : one));
  expect(checkZero(coarse)).toMatchObject({ kind: 'steady' });
});

test('a zero that reads high is subtracted, one that reads low is added', () => {
  expect(zeroCorrected(mm(42.3), mm(0.02))).toBeCloseTo(42.28, 12);
  expect(zeroCorrected(mm(42.3), mm(-0.02))).toBeCloseTo(42.32, 12);
});

test('lands: the land found in a ring corrects its chord exactly', () => {
  // a land of 0.6 mm in a ring of 10 mm: the jaws touch on a chord of sqrt(100 - 0.36) mm
  const shown = mm(Math.sqrt(10 ** 2 - 0.6 ** 2));
  expect(jawLandFrom(mm(10), shown)).toEqual({ kind: 'land', width: expect.closeTo(0.6, 9) });
  expect(landCorrected(shown, mm(0.6))).toBeCloseTo(10, 12);
  expect(jawLandFrom(mm(10), mm(10))).toEqual({ kind: 'land', width: 0 });
});

test('a ring shown larger than it is, or a tenth off, teaches nothing', () => {
  expect(jawLandFrom(mm(10), mm(10.01))).toMatchObject({ kind: 'no-land', why: 'reads-high', shown: 10.01 });
  expect(jawLandFrom(mm(10), mm(9))).toMatchObject({ kind: 'land' });
  for (const other of [8.99, 11.01, Number.NaN])
    expect(jawLandFrom(mm(10), mm(other))).toMatchObject({
      kind: 'no-land',
      why: 'not-this-ring',
      known: 10,
    });
});

test('a step is the worth of the last digit, never finer than a caliper shows', () => {
  expect(stepOf('42.30', 'mm')).toBe(0.01);
  expect(stepOf('42.3', 'mm')).toBe(0.1);
  expect(stepOf('42', 'mm')).toBe(1);
  expect(stepOf('42.3456', 'mm')).toBe(0.01);
  expect(stepOf('1.234', 'in')).toBe(inches(0.001));
  expect(stepOf('1.2345', 'in')).toBe(inches(0.0005));
});

describe('tapers of an engaged length', () => {
  const along = (near: number, far: number) => ({ near: mm(near), far: mm(far) });
  const of = (...parts: Parameters<typeof pairTaper>) => {
    const { tightens, gains } = pairTaper(...parts);
    return [Number(tightens.toFixed(9)), Number(gains.toFixed(9)) + 0];
  };

  test('a bore that closes in takes its whole change off the clearance; one that widens takes nothing', () => {
    expect(of(along(42.4, 42.2), null)).toEqual([0.2, -0.2]);
    expect(of(along(42.2, 42.4), null)).toEqual([0, 0.2]);
    expect(of(along(42.21, 42.2), null)).toEqual([0, 0]);
    expect(of(null, null)).toEqual([0, 0]);
  });

  test('a spigot wider at its end takes its change off, one wider at its shoulder takes nothing', () => {
    expect(of(null, along(43.4, 43.5))).toEqual([0.1, -0.1]);
    expect(of(null, along(43.5, 43.4))).toEqual([0, 0.1]);
  });

  test('of the same cone fit each other once closed, and open as they close', () => {
    expect(of(along(42.4, 42.2), along(43.5, 43.3))).toEqual([0, 0]);
    // the spigot's wide end has to pass the mouth, where the bore that widens is narrowest
    expect(of(along(42.2, 42.4), along(43.3, 43.5))).toEqual([0.2, 0]);
    expect(of(along(42.4, 42.2), along(43.4, 43.5))).toEqual([0.3, -0.3]);
  });

  test('the tightest meeting on the way is taken off', () => {
    // each width of the spigot, s of the way to its end, meets the bore from its mouth to s
    const steps = Array.from({ length: 21 }, (_, at) => at / 20);
    for (const [bore, spigot] of [
      [0.13, 0.07],
      [-0.13, 0.07],
      [0.13, -0.07],
      [-0.13, -0.07],
    ] as const) {
      const meetings = steps.flatMap((s) => steps.filter((b) => b <= s).map((b) => spigot * s + bore * b));
      expect(of(along(42, 42 - bore), along(43, 43 + spigot))[0]).toBeCloseTo(Math.max(...meetings), 9);
    }
  });
});

test('two diameters square to each other give an oval its tightest width in any orientation', () => {
  // widths 42.3 + 0.1 cos 2x in 1,000 orientations: the mean of what is found is the true narrowest and widest
  const orientations = Array.from({ length: 1000 }, (_, at) => (Math.PI * (at + 0.5)) / 1000);
  const found = orientations.map((x) => {
    const across = 0.1 * Math.cos(2 * x);
    return ovalityOf(mm(42.3 + across), mm(42.3 - across));
  });
  const mean = (values: readonly number[]) => values.reduce((so, value) => so + value, 0) / values.length;
  expect(mean(found.map((oval) => tightestOf('female', oval)))).toBeCloseTo(42.2, 5);
  expect(mean(found.map((oval) => tightestOf('male', oval)))).toBeCloseTo(42.4, 5);
  const spread = Math.sqrt(mean(found.map(({ narrowest }) => (narrowest - 42.2) ** 2)));
  expect(mean(found.map(({ standard }) => standard))).toBeCloseTo(spread, 3);
  expect(ovalityOf(mm(42.3), mm(42.3))).toEqual({
    ...{ difference: 0, round: true, narrowest: 42.3, widest: 42.3, standard: 0 },
  });
});

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
