// Units and their only conversions, against figures that everyone can check.
import { expect, test } from 'vitest';
import {
  celsius,
  degrees,
  fahrenheit,
  humidityPercent,
  inches,
  inDegrees,
  inInches,
  inPercent,
  inUnit,
  length,
  millis,
  mm,
  moisture,
  radians,
  tpi,
} from '../../src/core/units.ts';

test('lengths: an inch is 25.4 mm (NIST SP 811, Appendix B.8, from memory)', () => {
  expect([inches(2), length(2, 'in'), length(2, 'mm'), tpi(16)]).toEqual([50.8, 50.8, 2, 1.5875]);
  expect([inInches(mm(50.8)), inUnit(mm(50.8), 'in'), inUnit(mm(50.8), 'mm')]).toEqual([2, 2, 50.8]);
});

test('angles, temperatures, humidities, moistures and times', () => {
  expect(degrees(180)).toBeCloseTo(Math.PI, 12);
  expect(inDegrees(radians(Math.PI / 3))).toBeCloseTo(60, 12);
  expect([fahrenheit(212), fahrenheit(32), celsius(20)]).toEqual([100, 0, 20]);
  expect([humidityPercent(45), inPercent(humidityPercent(45))]).toEqual([0.45, 45]);
  expect([moisture(8.5), millis(125)]).toEqual([8.5, 125]);
});
