// What a cutter's tip leaves of a thread's triangle: how far short it ends, how wide the groove is, what crest stands.
import { expect, test } from 'vitest';
import {
  basicHeight,
  crestLeft,
  flankSlope,
  grooveWidth,
  roundHeight,
  sharpHeight,
  type Tip,
  tipLoss,
} from '../../src/core/thread/form.ts';
import { degrees, mm } from '../../src/core/units.ts';

const sixty = degrees(60);
const slope = Math.tan(Math.PI / 6);
const sharp: Tip = { kind: 'sharp' };
const flat: Tip = { kind: 'flat', width: mm(0.3) };
/** A nose of 0.4 mm at 60 degrees: its round is 0.2 mm high, and it ends 0.4 mm short of its point. */
const nose: Tip = { kind: 'radius', radius: mm(0.4) };

test('the triangle of 60 degrees is 0.866 pitches high', () => {
  expect(flankSlope(sixty)).toBeCloseTo(slope, 12);
  expect(sharpHeight(mm(2), sixty)).toBeCloseTo(Math.sqrt(3), 12);
});

test('a tip ends short of its point by half its flat over the slope, or by its nose', () => {
  expect(tipLoss(sharp, sixty)).toBe(0);
  expect(tipLoss(flat, sixty)).toBeCloseTo(0.15 / slope, 12);
  expect(tipLoss(nose, sixty)).toBeCloseTo(0.4, 12);
  expect([sharp, flat].map((tip) => roundHeight(tip, sixty))).toEqual([0, 0]);
  expect(roundHeight(nose, sixty)).toBeCloseTo(0.2, 12);
});

test('a groove of no depth has no width', () => {
  for (const tip of [sharp, flat, nose])
    for (const height of [0, -0.1]) expect(grooveWidth(mm(height), tip, sixty)).toBe(0);
});

test('in the nose a groove is the chord of a circle, above it the flanks part', () => {
  // the chord at height h of a circle of radius r, from Pythagoras: 2 sqrt(r^2 - (r - h)^2)
  const chord = (height: number) => 2 * Math.sqrt(0.4 ** 2 - (0.4 - height) ** 2);
  for (const height of [0.05, 0.1, 0.19])
    expect(grooveWidth(mm(height), nose, sixty)).toBeCloseTo(chord(height), 12);
  expect(grooveWidth(mm(0.2), nose, sixty)).toBeCloseTo(chord(0.2), 12);
  expect(grooveWidth(mm(1), nose, sixty)).toBeCloseTo(2 * slope * 1.4, 12);
  expect(grooveWidth(mm(1), flat, sixty)).toBeCloseTo(2 * slope * 1 + 0.3, 12);
  expect(grooveWidth(mm(1), sharp, sixty)).toBeCloseTo(2 * slope, 12);
});

test('the crest is the pitch less the groove and its widening', () => {
  expect(crestLeft(mm(2), mm(1), flat, sixty)).toBeCloseTo(2 - 0.3 - 2 * slope, 12);
  const narrower = crestLeft(mm(2), mm(1), flat, sixty) - crestLeft(mm(2), mm(1), flat, sixty, mm(0.02));
  expect(narrower).toBeCloseTo(0.04, 12);
});

test('the basic height is 5/8 of the triangle at 60 degrees, 2/3 at 55, and 60 speaks for the others', () => {
  expect(basicHeight(mm(1), sixty)).toBeCloseTo(0.541266, 6);
  expect(basicHeight(mm(1), degrees(55))).toBeCloseTo(0.640327, 6);
  expect(basicHeight(mm(1), degrees(45))).toBeCloseTo(0.541266, 6);
});
