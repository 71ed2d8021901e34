// Learning from trials: simulated turners with a hidden bias do better, those without one no worse, and a change is followed.
import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { chanceOf, learn, shiftFor, type Trial } from '../../src/core/learn/bias.ts';
import { defaultBounds, FIT_ORDER, fitWord } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { chanceFrom } from '../support/chance.ts';
import { school, success, taught } from '../support/learning-turners.ts';

const BOXES = 12;

test.each([
  [{ wanted: 0.15, standard: 0.05, bias: -0.1 }, 0.2],
  [{ wanted: 0.19, standard: 0.05, bias: -0.15 }, 0.2],
  [{ wanted: 0.19, standard: 0.05, bias: 0.15 }, 0.2],
  [{ wanted: 0.19, standard: 0.05, times: 2, bias: 0.15 }, 0.1],
])('twelve boxes of %j raise the chance of running by at least %d', (turner, least) => {
  const { gain, doubt } = school(turner, BOXES, 20, 11);
  expect(gain - 2 * doubt).toBeGreaterThan(least);
});

test.each([
  [{ wanted: 0.15, standard: 0.05, bias: 0 }],
  [{ wanted: 0.19, standard: 0.09, bias: 0 }],
  [{ wanted: 0.19, standard: 0.05, times: 2, bias: 0 }],
])('without a bias learning costs %j nothing beyond half a point of chance', (turner) => {
  const { gain, doubt } = school(turner, BOXES, 40, 12);
  expect(gain + 2 * doubt).toBeGreaterThan(-0.005);
  expect(gain).toBeGreaterThan(-0.01);
});

test('after a change of habit the target follows within six boxes', () => {
  const turner = {
    wanted: 0.19,
    standard: 0.05,
    bias: (box: number) => (box < 15 ? 0.12 : -0.12),
  };
  const chance = chanceFrom(7);
  const chances = Array.from({ length: 20 }, () => {
    const made = taught(chance, turner, 22);
    return [15, 21].map((box) => success(turner, box, made[box]?.computed ?? Number.NaN));
  });
  const mean = (at: number) => chances.reduce((so, one) => so + (one[at] ?? 0), 0) / chances.length;
  expect(mean(0)).toBeLessThan(0.2);
  expect(mean(1)).toBeGreaterThan(0.7);
});

test.each([0, 0.1, -0.15])(
  'no success of a turner with a bias of %d mm makes the program less sure',
  (bias) => {
    const chance = chanceFrom(9);
    const turner = { wanted: 0.19, standard: 0.05, bias };
    const made = Array.from({ length: 25 }, () => taught(chance, turner, 12)).flat();
    const successes = made.filter(({ verdict }) => verdict === 'running');
    expect(successes.length).toBeGreaterThan(150);
    expect(successes.filter(({ before, after }) => after > before + 1e-9)).toEqual([]);
  },
);

const trial: fc.Arbitrary<Trial> = fc.record({
  pair: fc.constantFrom('a', 'b', 'c'),
  label: fc.string(),
  computedClearance: fc.double({ min: -2, max: 2, noNaN: true }).map(mm),
  standardUncertainty: fc.double({ min: 0.005, max: 0.5, noNaN: true }).map(mm),
  verdict: fc.constantFrom(...FIT_ORDER),
  bounds: fc.constant(defaultBounds),
});

const oneTrial = { pair: 'a', label: 'a', bounds: defaultBounds };

test('every trial is a reason, and the reasons add up to the answer', () => {
  fc.assert(
    fc.property(fc.array(trial, { maxLength: 6 }), (trials) => {
      const learned = learn(trials);
      expect(learned.reasons.map((reason) => reason.trial)).toEqual(trials);
      const moved = learned.reasons.reduce((so, reason) => so + reason.moved, 0);
      expect(moved).toBeCloseTo(learned.mean, 9);
      for (const { explained, moved } of learned.reasons) if (!explained) expect(moved).toBe(0);
      expect(learned.spread).toBeGreaterThan(0);
    }),
    { numRuns: 60 },
  );
});

/**
 * For one scatter a trial's likelihood is log-concave in the bias, so it never widens a normal prior (Brascamp and Lieb; from
 * memory). For several it may, where it surprises: that the bias is far off, and that the scatter is large, are two
 * explanations with two means. So trials of one kind may leave more doubt than none, and those that contradict each other should.
 * Where a trial came out as computed, no bias is among those that its interval [l, h] allows: l <= 0 <= h. Then L(b) + L(-b) falls with |b|
 * (the interval and its mirror image together do, and a symmetric scatter keeps that), so that E(b^2), and with
 * it the variance, is at most the prior's for each scatter, and for their mixture (derived for one trial).
 */
test('a surprise may leave the next box less certain than the first', () => {
  const surprise = { ...oneTrial, computedClearance: mm(0.84), standardUncertainty: mm(0.2) };
  expect(learn([{ ...surprise, verdict: 'tight' }]).spread).toBeGreaterThan(1.01 * learn([]).spread);
  expect(learn([{ ...surprise, verdict: 'loose' }]).spread).toBeLessThan(learn([]).spread);
});

test('trials that came out as computed never leave the next box less certain than the first', () => {
  fc.assert(
    fc.property(fc.array(trial, { maxLength: 6 }), (trials) => {
      const asComputed = trials.map((one) => {
        const verdict = fitWord(one.computedClearance, one.bounds);
        return { ...one, verdict };
      });
      expect(learn(asComputed).spread).toBeLessThan(learn([]).spread + 1e-6);
    }),
    { numRuns: 60 },
  );
});

test('no shift ever lowers the believed chance of running', () => {
  fc.assert(
    fc.property(fc.array(trial, { maxLength: 5 }), (trials) => {
      const learned = learn(trials);
      const shift = shiftFor(mm(0.15), mm(0.05), defaultBounds, learned);
      const chance = (computed: number) =>
        chanceOf('running', mm(computed), mm(0.05), defaultBounds, learned.belief);
      expect(chance(0.15 - shift)).toBeGreaterThanOrEqual(chance(0.15));
    }),
    { numRuns: 30 },
  );
});
