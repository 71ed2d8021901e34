// How a caliper's readings are corrected: by its zero and by the lands of its jaws; and how fine a reading is.
import { expect, test } from 'vitest';
import { checkZero, jawLandFrom, landCorrected, zeroCorrected } from '../../src/core/measure/corrections.ts';
import { type Reading, stepOf } from '../../src/core/measure/reading.ts';
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
