// Learning from trials: simulated turners with a hidden bias do better after five trials, and without one no worse than before.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { advise, chanceOf, learn, type Trial } from '../../src/core/learn/bias.ts';
import { defaultBounds, type FitWord } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { school } from '../support/school.ts';

const BOXES = 5;

test.each([
  [{ wanted: 0.15, standard: 0.05, bias: -0.1 }, 0.3],
  [{ wanted: 0.15, standard: 0.05, bias: 0.1 }, 0.02],
  [{ wanted: 0.19, standard: 0.05, bias: -0.1 }, 0.15],
  [{ wanted: 0.19, standard: 0.05, bias: 0.1 }, 0.15],
  [{ wanted: 0.19, standard: 0.08, bias: 0.1 }, 0.08],
])('five trials of %j raise the chance of running by at least %d', (turner, least) => {
  const { gain, doubt } = school(turner, BOXES, 40, 11);
  expect(gain - 2 * doubt).toBeGreaterThan(least);
});

test.each([
  [{ wanted: 0.15, standard: 0.05, bias: 0 }],
  [{ wanted: 0.15, standard: 0.08, bias: 0 }],
  [{ wanted: 0.19, standard: 0.05, bias: 0 }],
  [{ wanted: 0.19, standard: 0.08, bias: 0 }],
])('without a bias five trials of %j cost nothing beyond half a point of chance', (turner) => {
  const { gain, doubt } = school(turner, BOXES, 60, 12);
  expect(gain + 2 * doubt).toBeGreaterThan(-0.005);
  expect(gain).toBeGreaterThan(-0.01);
});

const verdicts = fc.constantFrom<FitWord>('seized', 'tight', 'running', 'loose');
const trial: fc.Arbitrary<Trial> = fc.record({
  label: fc.string(),
  computedClearance: fc.double({ min: -2, max: 2, noNaN: true }).map(mm),
  standardUncertainty: fc.double({ min: 0.005, max: 0.5, noNaN: true }).map(mm),
  verdict: verdicts,
  bounds: fc.constant(defaultBounds),
});

test('every trial is a reason, the reasons add up to the answer, and a verdict moves it its own way', () => {
  fc.assert(
    fc.property(fc.array(trial, { maxLength: 6 }), (trials) => {
      const learned = learn(trials);
      expect(learned.reasons.map((reason) => reason.trial)).toEqual(trials);
      const moved = learned.reasons.reduce((so, reason) => so + reason.moved, 0);
      expect(moved).toBeCloseTo(learned.mean, 9);
      for (const reason of learned.reasons) {
        if (reason.trial.verdict === 'seized') expect(reason.moved).toBeLessThanOrEqual(1e-12);
        if (reason.trial.verdict === 'loose') expect(reason.moved).toBeGreaterThanOrEqual(-1e-12);
        if (!reason.explained) expect(reason.moved).toBe(0);
      }
      expect(learned.spread).toBeGreaterThan(0);
      expect(learned.spread).toBeLessThan(0.2);
    }),
    { numRuns: 60 },
  );
});

test('the advice never lowers the believed chance of running', () => {
  fc.assert(
    fc.property(fc.array(trial, { maxLength: 5 }), (trials) => {
      const learned = learn(trials);
      const advice = advise(mm(0.15), mm(0.05), defaultBounds, learned);
      expect(advice.chanceOfRunning).toBeGreaterThanOrEqual(advice.chanceWithout);
      expect(advice.computedClearance).toBeCloseTo(0.15 - advice.shift, 12);
      const again = chanceOf('running', advice.computedClearance, mm(0.05), defaultBounds, learned.belief);
      expect(again).toBeCloseTo(advice.chanceOfRunning, 12);
    }),
    { numRuns: 30 },
  );
});
