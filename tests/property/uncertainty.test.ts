// The 95 % interval holds 93 to 97 % of simulated truths, and the budget obeys its own laws.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Contribution, combine } from '../../src/core/measure/uncertainty.ts';
import { spreadOf } from '../../src/core/statistics.ts';
import { type BudgetInputs, chancesOf, clearanceBudget } from '../../src/core/thread/chances.ts';
import { defaultBounds } from '../../src/core/thread/fit.ts';
import { limitsOf } from '../../src/core/thread/limits.ts';
import type { Pair } from '../../src/core/thread/pair.ts';
import { degrees, mm, tpi } from '../../src/core/units.ts';
import { type Chance, chanceFrom } from '../support/chance.ts';

const TRIALS = 4000;

const groove = { depth: mm(1), tip: { kind: 'sharp' } } as const;
const pair: Pair = { pitch: tpi(16), starts: 1, angle: degrees(60), female: groove, male: groove };
const limits = limitsOf(pair);
if (limits.kind !== 'limits') throw new Error(limits.kind);

/** One bench as it is: how far readings of each diameter scatter, how often they are repeated, how well touch-off is known. */
interface Bench {
  readonly scatter: number;
  readonly tops: number;
  readonly touchOff: number;
}

const diameter = (chance: Chance, { scatter, tops }: Bench) => {
  const readings = Array.from({ length: tops }, () => scatter * chance.normal());
  const { mean, deviation } = spreadOf(readings);
  return { error: mean, standard: mm(deviation / Math.sqrt(tops)), degreesOfFreedom: tops - 1 };
};
const rectangle = (chance: Chance, half: number): number => half * (2 * chance.uniform() - 1);

/** One job: the clearance's true error, and the interval that was shown for it. */
function inside(chance: Chance, bench: Bench): boolean {
  const [bore, spigot] = [diameter(chance, bench), diameter(chance, bench)];
  const depths = rectangle(chance, bench.touchOff) + rectangle(chance, bench.touchOff);
  const within = { within: mm(bench.touchOff) };
  const budget: BudgetInputs = {
    pair,
    limits: shownLimits(),
    bore,
    spigot,
    touchOff: { female: within, male: within },
  };
  const error = bore.error - spigot.error + 2 * depths;
  return Math.abs(error) <= clearanceBudget(budget).expanded95;
}
function shownLimits() {
  if (limits.kind !== 'limits') throw new Error(limits.kind);
  return limits;
}

test.each([
  ['tops that scatter as much as touch-off', { scatter: 0.03, tops: 4, touchOff: 0.01 }],
  ['many tops, touch-off known to 0.02 mm', { scatter: 0.02, tops: 8, touchOff: 0.02 }],
  ['touch-off that drowns all else', { scatter: 0.01, tops: 5, touchOff: 0.05 }],
])('the interval of a clearance covers 93 to 97 in 100 truths: %s', (_, bench) => {
  const chance = chanceFrom(95);
  const held = Array.from({ length: TRIALS }, () => inside(chance, bench)).filter(Boolean).length;
  const covered = held / TRIALS;
  expect(covered).toBeGreaterThan(0.93);
  expect(covered).toBeLessThan(0.97);
});

const contribution: fc.Arbitrary<Contribution> = fc.record({
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
      // So small that its own square is lost is no doubt that anybody has: neither share nor degree can be told.
      const told = combined.standard === 0 || combined.standard > 1e-100;
      if (told) expect(sum).toBeCloseTo(combined.standard === 0 ? 0 : 1, 9);
      if (told) expect(combined.degreesOfFreedom).toBeGreaterThanOrEqual(Math.min(...degreesOf) * (1 - 1e-9));
      for (const value of [combined.standard, combined.coverageFactor, combined.expanded95])
        expect(value).not.toBeNaN();
    }),
  );
});

test('the four chances add up to one and are what a simulation of the clearance gives', () => {
  const between = (from: number, to: number) => fc.double({ min: from, max: to, noNaN: true });
  fc.assert(
    fc.property(between(-1, 1), between(0, 0.5), (clearance, standard) => {
      const { seized, tight, running, loose } = chancesOf(mm(clearance), standard, defaultBounds);
      expect(seized + tight + running + loose).toBeCloseTo(1, 12);
      expect(Math.min(seized, tight, running, loose)).toBeGreaterThanOrEqual(0);
    }),
  );
  const chance = chanceFrom(4);
  const seen = Array.from({ length: 20_000 }, () => 0.12 + 0.06 * chance.normal());
  const share = (from: number, to: number) => seen.filter((c) => c >= from && c < to).length / seen.length;
  const chances = chancesOf(mm(0.12), 0.06, defaultBounds);
  expect(chances.tight).toBeCloseTo(share(0, 0.08), 1.7);
  expect(chances.running).toBeCloseTo(share(0.08, 0.3), 1.7);
});
