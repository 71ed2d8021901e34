// The 95 % interval holds as many simulated truths as it says, and the budget obeys its own laws.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Contribution, combine } from '../../src/core/measure/uncertainty.ts';
import { chancesOf, plainDoubt } from '../../src/core/thread/chances.ts';
import { defaultBounds } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { chanceFrom } from '../support/chance.ts';
import { coverageOf, SITUATIONS, worstChance } from '../support/coverage.ts';

/** Few trials, so a wide gate; `npm run bench coverage` runs 5,000 of each and holds them to 93 to 97 % and 3 points. */
const TRIALS = 400;
const SEEN = [
  'touch-offs by eye, depths measured',
  'feed known from two travels',
  'two typed bores',
  'limited at the roots, equal depths by feed',
  'oval bore and spigot',
  'made for 35 to 60 % humidity',
];

test.each(SITUATIONS.filter(({ name }) => SEEN.includes(name)))(
  'of 400 simulated jobs 91 to 99 % of truths lie in the stated interval, and chances come true: $name',
  (situation) => {
    const coverage = coverageOf(situation, TRIALS, 95);
    expect(coverage.covered).toBeGreaterThan(0.91);
    expect(coverage.covered).toBeLessThan(0.99);
    expect(Math.abs(coverage.bias)).toBeLessThan(0.015);
    expect(worstChance(coverage)).toBeLessThan(0.06);
  },
);

const contribution: fc.Arbitrary<Required<Contribution>> = fc.record({
  name: fc.string(),
  standard: fc.double({ min: 0, max: 1, noNaN: true }),
  sensitivity: fc.double({ min: -4, max: 4, noNaN: true }),
  degreesOfFreedom: fc.oneof(fc.constant(Number.POSITIVE_INFINITY), fc.integer({ min: 1, max: 100 })),
});

test('combining: never less than the largest, shares that add up, degrees of freedom between least and sum', () => {
  fc.assert(
    fc.property(fc.array(contribution, { minLength: 1, maxLength: 8 }), (contributions) => {
      const combined = combine(contributions);
      const effects = contributions.map((one) => Math.abs(one.standard * one.sensitivity));
      expect(combined.standard).toBeGreaterThanOrEqual(Math.max(...effects) * (1 - 1e-12));
      expect(combined.expanded95).toBeCloseTo(combined.coverageFactor * combined.standard, 12);
      const sum = combined.shares.reduce((so, { share }) => so + share, 0);
      const degreesOf = contributions.map((one) => one.degreesOfFreedom);
      // Nobody has a doubt so small that its square is 0: it has neither shares nor degrees of freedom.
      const told = combined.standard === 0 || combined.standard > 1e-100;
      if (told) expect(sum).toBeCloseTo(combined.standard === 0 ? 0 : 1, 9);
      if (told) expect(combined.degreesOfFreedom).toBeGreaterThanOrEqual(Math.min(...degreesOf) * (1 - 1e-9));
      for (const value of [combined.standard, combined.coverageFactor, combined.expanded95])
        expect(value).not.toBeNaN();
    }),
  );
});

const normal = (standard: number) =>
  plainDoubt({
    bore: { standard, degreesOfFreedom: Number.POSITIVE_INFINITY },
    spigot: { standard: 0, degreesOfFreedom: Number.POSITIVE_INFINITY },
  });

test('the four chances add up to one and are what a simulation of the clearance gives', () => {
  const between = (from: number, to: number) => fc.double({ min: from, max: to, noNaN: true });
  fc.assert(
    fc.property(between(-1, 1), between(0, 0.5), (clearance, standard) => {
      const { seized, tight, running, loose } = chancesOf(mm(clearance), normal(standard), defaultBounds);
      expect(seized + tight + running + loose).toBeCloseTo(1, 12);
      expect(Math.min(seized, tight, running, loose)).toBeGreaterThanOrEqual(0);
    }),
  );
  const chance = chanceFrom(4);
  const seen = Array.from({ length: 20_000 }, () => 0.12 + 0.06 * chance.normal());
  const share = (from: number, to: number) => seen.filter((c) => c >= from && c < to).length / seen.length;
  const chances = chancesOf(mm(0.12), normal(0.06), defaultBounds);
  expect(chances.tight).toBeCloseTo(share(0, 0.08), 1.7);
  expect(chances.running).toBeCloseTo(share(0.08, 0.3), 1.7);
});
