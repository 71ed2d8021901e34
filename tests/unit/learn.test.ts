// Learning: what one verdict says, what is ignored, and how much of a bias is corrected.
import { expect, test } from 'vitest';
import { CAUTION, chanceOf, learn, shiftFor, type Trial, wordRange } from '../../src/core/learn/bias.ts';
import { normalBetween } from '../../src/core/statistics.ts';
import { defaultBounds, type FitWord } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';

let pairs = 0;
/** A trial of a new pair. */
const trial = (verdict: FitWord, computed = 0.15, standard = 0.05): Trial => ({
  pair: `pair ${++pairs}`,
  label: `${verdict} at ${computed}`,
  computedClearance: mm(computed),
  standardUncertainty: mm(standard),
  verdict,
  bounds: defaultBounds,
});
const repeated = (times: number, of: Trial): readonly Trial[] =>
  Array.from({ length: times }, (_, at) => ({ ...of, pair: `${of.pair}.${at}` }));

test('without trials the bias is the prior one: none, give or take 0.15 mm', () => {
  expect(learn([])).toMatchObject({
    mean: expect.closeTo(0, 12),
    spread: expect.closeTo(0.15, 3),
    reasons: [],
  });
});

/** Shares of one. */
function shares(weights: readonly number[]): readonly number[] {
  const sum = weights.reduce((so, one) => so + one, 0);
  return weights.map((one) => one / sum);
}

test('a verdict counts by Bayes; where it contradicts the lessons, four boxes in a hundred had another bias: by plain sums', () => {
  // the scatter may be 1, 1.5 or 2.25 times what was stated
  const scatters = { 1: 0.6, 1.5: 0.25, 2.25: 0.15 };
  const points = Object.entries(scatters).flatMap(([times, believed]) =>
    Array.from({ length: 81 }, (_, at) => {
      const bias = 0.015 * at - 0.6;
      return { times: Number(times), bias, prior: believed * Math.exp(-((bias / 0.15) ** 2) / 2) };
    }),
  );
  const mean = (weights: readonly number[]) =>
    points.reduce((so, { bias }, i) => so + bias * (weights[i] ?? 0), 0);
  const given = (weights: readonly number[], verdict: FitWord) => {
    const [low, high] = wordRange(verdict, defaultBounds).map((end) => end - 0.15) as [number, number];
    return shares(
      points.map(({ bias, times }, i) => (weights[i] ?? 0) * normalBetween(low, high, bias, times * 0.05)),
    );
  };
  const prior = shares(points.map((point) => point.prior));
  const loose = given(prior, 'loose');
  expect(learn([trial('loose')]).mean).toBeCloseTo(mean(loose), 7);
  const twice = given(loose, 'loose');
  // the scatter stays what it was, the bias is anybody's guess
  const scatter = (times: number, weights: readonly number[]) =>
    weights.reduce((so, one, i) => so + (points[i]?.times === times ? one : 0), 0);
  const mixed = points.map(
    ({ times }, i) =>
      0.96 * (twice[i] ?? 0) + (0.04 * scatter(times, twice) * (prior[i] ?? 0)) / scatter(times, prior),
  );
  const all = [...repeated(2, trial('loose')), trial('seized')];
  expect(learn(all).mean).toBeCloseTo(mean(given(mixed, 'seized')), 7);
});

test('trials that agree narrow the spread; every one is listed with how far it moved the answer', () => {
  const five = learn(repeated(5, trial('loose', 0.2)));
  expect(five.spread).toBeLessThan(learn([trial('loose', 0.2)]).spread);
  expect(five.reasons).toHaveLength(5);
  expect(five.reasons.every(({ explained }) => explained)).toBe(true);
});

test('a verdict that no bias within reach explains is listed and moves nothing', () => {
  const wrong = trial('seized', 3, 0.02);
  const learned = learn([trial('running'), wrong]);
  expect(learned.reasons[1]).toMatchObject({ explained: false, moved: 0, trial: wrong });
  expect(learned.mean).toBe(learn([trial('running')]).mean);
});

test('trials of one pair share its errors: together they say no more than where their ranges meet', () => {
  const one = trial('tight', 0.15);
  const again = { ...one, label: 'again' };
  expect(learn([one, again]).mean).toBe(learn([one]).mean);
  expect(learn([one, again]).spread).toBe(learn([one]).spread);
  expect(learn([one, { ...again, pair: 'another' }]).spread).toBeLessThan(learn([one]).spread);
  // tight at 0.15 mm, running once cut deeper to 0.35 mm: bias and error lie from -0.15 to -0.07 mm
  const reworked = learn([one, { ...trial('running', 0.35), pair: one.pair }]);
  expect(reworked.mean).toBeLessThan(-0.05);
  expect(reworked.reasons).toHaveLength(2);
});

test('the target corrects the part of the bias beyond its spread, and nothing else', () => {
  const unsure = learn([trial('running')]);
  expect(shiftFor(mm(0.15), mm(0.05), defaultBounds, unsure)).toBe(0);
  const sure = learn(repeated(5, trial('seized', 0.15)));
  const shift = shiftFor(mm(0.15), mm(0.05), defaultBounds, sure);
  expect(shift).toBeCloseTo(sure.mean + CAUTION * sure.spread, 9);
  const chance = (computed: number) =>
    chanceOf('running', mm(computed), mm(0.05), defaultBounds, sure.belief);
  expect(chance(0.15 - shift)).toBeGreaterThan(chance(0.15));
});

test('the chances of the four words add up to one', () => {
  const { belief } = learn([trial('tight')]);
  const words = ['seized', 'tight', 'running', 'loose'] as const;
  const sum = words.reduce((so, word) => so + chanceOf(word, mm(0.15), mm(0.05), defaultBounds, belief), 0);
  expect(sum).toBeCloseTo(1, 7);
});

test('a trial without doubt, or a belief without spread, is a mistake of the program', () => {
  expect(() => learn([trial('tight', 0.1, 0)])).toThrow(RangeError);
  expect(() => learn([], mm(0))).toThrow(RangeError);
});
