// The form: heights, tips, grooves and crests, by figures worked out by hand.
import { expect, test } from 'vitest';
import {
  basicHeight,
  crestLeft,
  grooveWidth,
  lead,
  roundHeight,
  sharpHeight,
  type Tip,
  tipLoss,
} from '../../src/core/thread/form.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';

const sixty = degrees(60);
const sharp: Tip = { kind: 'sharp' };

test('16 TPI at 60 degrees is 1.3748 mm high when sharp', () => {
  expect(sharpHeight(tpi(16), sixty)).toBeCloseTo(1.37482, 5);
});

test('a flat of P/4 costs a quarter of the height, a nose r at 60 degrees costs r', () => {
  const pitch = mm(1.5);
  expect(tipLoss({ kind: 'flat', width: mm(pitch / 4) }, sixty)).toBeCloseTo(
    sharpHeight(pitch, sixty) / 4,
    12,
  );
  expect(tipLoss({ kind: 'radius', radius: mm(0.2) }, sixty)).toBeCloseTo(0.2, 12);
  expect(tipLoss(sharp, sixty)).toBe(0);
});

test('a groove is as wide as its tip at the bottom and grows by twice the slope', () => {
  expect(grooveWidth(mm(1), sharp, sixty)).toBeCloseTo(2 / Math.sqrt(3), 12);
  const flat: Tip = { kind: 'flat', width: mm(0.2) };
  expect(grooveWidth(mm(1e-12), flat, sixty)).toBeCloseTo(0.2, 9);
  expect(grooveWidth(mm(1), flat, sixty)).toBeCloseTo(0.2 + 2 / Math.sqrt(3), 12);
  expect(grooveWidth(mm(0), flat, sixty)).toBe(0);
});

test('below the end of its nose a groove is the chord of a circle, and meets the flank without a step', () => {
  const nose: Tip = { kind: 'radius', radius: mm(0.4) };
  expect(roundHeight(nose, sixty)).toBeCloseTo(0.2, 12);
  expect(grooveWidth(mm(0.1), nose, sixty)).toBeCloseTo(2 * Math.sqrt(0.4 ** 2 - 0.3 ** 2), 12);
  expect(grooveWidth(mm(0.2 - 1e-9), nose, sixty)).toBeCloseTo(grooveWidth(mm(0.2), nose, sixty), 6);
});

test('the crest is what the groove leaves of the pitch, and less by what a disc widens', () => {
  expect(crestLeft(tpi(16), mm(1), sharp, sixty)).toBeCloseTo(1.5875 - 2 / Math.sqrt(3), 12);
  expect(crestLeft(tpi(16), mm(1.4), sharp, sixty)).toBeLessThan(0);
  expect(crestLeft(mm(2), mm(1), sharp, sixty, mm(0.01))).toBeCloseTo(
    crestLeft(mm(2), mm(1), sharp, sixty) - 0.02,
    12,
  );
});

test('two starts go twice as far in a turn', () => {
  expect(lead(tpi(16), 2)).toBeCloseTo(3.175, 12);
});

test('the basic height is 5/8 H of the 60-degree form, and at 55 degrees two thirds of its own', () => {
  expect(basicHeight(mm(1), sixty)).toBeCloseTo(0.541266, 6);
  expect(basicHeight(mm(1), degrees(45))).toBeCloseTo(0.541266, 6);
  expect(basicHeight(mm(1), degrees(55))).toBeCloseTo(0.640327, 6);
});
