// When the jaws are held still: how near, how many and how long; and a typed value, which is held by definition.
import { expect, test } from 'vitest';
import type { KeptReading } from '../../src/core/bench/entry.ts';
import { steadyOf } from '../../src/core/bench/stages/readings.ts';
import { millis, mm } from '../../src/core/units.ts';

/** Readings of a caliper, this many milliseconds apart. */
const heard = (every: number, ...values: readonly number[]): readonly KeptReading[] =>
  values.map((value, place) => ({
    value: mm(value),
    unit: 'mm',
    step: mm(0.01),
    text: value.toFixed(2),
    at: millis(1000 + place * every),
    raw: `DI,${value.toFixed(2)}`,
  }));
const typed = (value: number): KeptReading => ({
  value: mm(value),
  unit: 'mm',
  step: mm(0.01),
  text: String(value),
  at: millis(0),
  raw: '',
});
const heldAt = (readings: readonly KeptReading[]) => steadyOf(readings)?.value;

test('nothing is not held', () => {
  expect(steadyOf([])).toBeUndefined();
});

test('three readings over two tenths of a second are held, two or a shorter while are not', () => {
  expect(heldAt(heard(100, 43.4, 43.4, 43.4))).toBe(43.4);
  expect(heldAt(heard(99, 43.4, 43.4, 43.4))).toBeUndefined();
  expect(heldAt(heard(200, 43.4, 43.4))).toBeUndefined();
});

test('two steps apart are near, three are not, and earlier readings are left out', () => {
  expect(heldAt(heard(100, 43.42, 43.42, 43.4))).toBe(43.42);
  expect(heldAt(heard(100, 43.38, 43.38, 43.4))).toBe(43.38);
  expect(heldAt(heard(100, 43.43, 43.4, 43.4))).toBeUndefined();
  expect(heldAt(heard(100, 43.37, 43.4, 43.4))).toBeUndefined();
  const held = steadyOf(heard(100, 45, 43.4, 43.4, 43.4));
  expect(held?.readings.map(({ value }) => value)).toEqual([43.4, 43.4, 43.4]);
  expect(held?.readings.map(({ at }) => at)).toEqual([1100, 1200, 1300]);
});

test('the value is the middle one, between the two middle ones where they are even', () => {
  expect(heldAt(heard(100, 43.42, 43.4, 43.41))).toBe(43.41);
  expect(heldAt(heard(100, 43.42, 43.4, 43.41, 43.41, 43.42, 43.4))).toBeCloseTo(43.41, 12);
  expect(heldAt(heard(100, 43.4, 43.4, 43.42, 43.42))).toBeCloseTo(43.41, 12);
});

test('a typed value is held at once and alone, and one before it holds nothing', () => {
  const last = typed(44);
  expect(steadyOf([...heard(100, 43.4, 43.4), last])).toEqual({ value: 44, readings: [last] });
  expect(heldAt([typed(43.4), ...heard(150, 43.4, 43.4)])).toBeUndefined();
});
