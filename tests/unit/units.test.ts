// Units and their only conversions, against figures that everyone can check.
import { expect, test } from 'vitest';
import { append, between, emptySeries, itemAt } from '../../src/core/measure/reading.ts';
import { limitsOf, partsThatAdd } from '../../src/core/thread/fit.ts';
import type { Tip } from '../../src/core/thread/form.ts';
import type { Pair } from '../../src/core/thread/pair.ts';
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
import { ofKind } from '../support/of-kind.ts';

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

test('a growing list keeps each of its versions, also where two grow from one', () => {
  const two = append(append(emptySeries<string>(), 'a'), 'b');
  const [c, d] = [append(two, 'c'), append(two, 'd')];
  expect([between(c, 0), between(d, 0), between(two, 0)]).toEqual([
    ['a', 'b', 'c'],
    ['a', 'b', 'd'],
    ['a', 'b'],
  ]);
  expect([itemAt(two, 1), itemAt(two, 2), itemAt(two, -1)]).toEqual(['b', undefined, undefined]);
  expect([between(c, 1), between(c, -5, 2), between(c, 1, 9)]).toEqual([
    ['b', 'c'],
    ['a', 'b'],
    ['b', 'c'],
  ]);
  expect(append(two, 'e').shared).not.toBe(c.shared);
});

test('a clearance answers to both depths at the flanks, at the root to the shallower alone', () => {
  const answers = (female: number, male: number, tip: Tip = { kind: 'sharp' }) => {
    const groove = (depth: number) => ({ depth: mm(depth), tip, widening: mm(0) });
    const of = {
      pitch: mm(1.5875),
      starts: 1,
      angle: degrees(60),
      female: groove(female),
      male: groove(male),
    };
    const limitAt = (pair: Pair) => ofKind('limits', limitsOf(pair));
    const limits = limitAt(of);
    const both = (['female', 'male'] as const).map((part) =>
      partsThatAdd(of, limits).includes(part) ? 2 : 0,
    );
    // What deepening each groove by a nanometre really buys.
    const bought = [
      { ...of, female: groove(female + 1e-6) },
      { ...of, male: groove(male + 1e-6) },
    ];
    for (const [at, deeper] of bought.entries())
      expect((limitAt(deeper).limit - limits.limit) / 1e-6).toBeCloseTo(both[at] ?? 0, 6);
    return both;
  };
  const flat: Tip = { kind: 'flat', width: mm(0.3) };
  expect(answers(1, 1.1)).toEqual([2, 2]);
  expect(answers(0.9, 1, flat)).toEqual([2, 0]);
  expect(answers(1, 0.9, flat)).toEqual([0, 2]);
  expect(answers(0.9, 0.9, flat)).toEqual([0, 0]);
});
