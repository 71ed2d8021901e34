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
  const { mean, spread, reasons } = learn([]);
  expect(mean).toBeCloseTo(0, 12);
  expect(spread).toBeCloseTo(0.15, 3);
  expect(reasons).toEqual([]);
});

test('a loose lid that was computed to run says the bias is above, a seized one that it is below', () => {
  expect(learn([trial('loose')]).mean).toBeGreaterThan(0.1);
  expect(learn([trial('seized')]).mean).toBeLessThan(-0.1);
});

test('the posterior of one verdict is that of Bayes: by a plain sum over biases', () => {
  const [low, high] = wordRange('running', defaultBounds);
  let [weight, mean] = [0, 0];
  const phi = (z: number) => Math.exp((-z * z) / 2);
  // the scatter may be 1, 1.5 or 2.25 times what was stated
  for (const [times, believed] of [
    [1, 0.6],
    [1.5, 0.25],
    [2.25, 0.15],
  ] as const)
    for (let bias = -0.6; bias <= 0.6; bias += 0.001) {
      let inside = 0;
      const scatter = 0.05 * times;
      for (let c = low; c < high; c += 0.001) inside += phi((c + 0.0005 - 0.15 - bias) / scatter) / scatter;
      weight += believed * inside * phi(bias / 0.15);
      mean += bias * believed * inside * phi(bias / 0.15);
    }
  expect(learn([trial('running')]).mean).toBeCloseTo(mean / weight, 4);
});

test('a box that contradicts the lessons may have been made with another bias: four in a hundred, by a plain sum', () => {
  const points = [
    [1, 0.6],
    [1.5, 0.25],
    [2.25, 0.15],
  ].flatMap(([times = 0, believed = 0]) =>
    Array.from({ length: 81 }, (_, at) => {
      const bias = 0.015 * at - 0.6;
      return { times, bias, prior: believed * Math.exp(-((bias / 0.15) ** 2) / 2) };
    }),
  );
  const shares = (weights: readonly number[]) => {
    const sum = weights.reduce((so, one) => so + one, 0);
    return weights.map((one) => one / sum);
  };
  const given = (weights: readonly number[], verdict: FitWord) => {
    const [low, high] = wordRange(verdict, defaultBounds);
    return shares(
      points.map(
        ({ bias, times }, i) =>
          (weights[i] ?? 0) * normalBetween(low - 0.15, high - 0.15, bias, times * 0.05),
      ),
    );
  };
  const prior = shares(points.map((point) => point.prior));
  const loose = given(given(prior, 'loose'), 'loose');
  // the scatter stays what it was, the bias is anybody's guess
  const scatter = (times: number, weights: readonly number[]) =>
    weights.reduce((so, one, i) => so + (points[i]?.times === times ? one : 0), 0);
  const mixed = loose.map((one, i) => {
    const { times = 0 } = points[i] ?? {};
    return 0.96 * one + (0.04 * scatter(times, loose) * (prior[i] ?? 0)) / scatter(times, prior);
  });
  const seized = given(mixed, 'seized');
  const mean = seized.reduce((so, one, i) => so + one * (points[i]?.bias ?? 0), 0);
  expect(learn([...repeated(2, trial('loose')), trial('seized')]).mean).toBeCloseTo(mean, 7);
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

test('a success never makes the program less sure', () => {
  let before = learn([]).spread;
  for (const times of [1, 2, 3, 5, 8]) {
    const { spread } = learn(repeated(times, trial('running')));
    expect(spread).toBeLessThan(before);
    before = spread;
  }
});

test('old lessons fade: after ten boxes one way, four the other way have turned the answer', () => {
  const loose = repeated(10, trial('loose', 0.19));
  const seized = repeated(4, trial('seized', 0.19));
  expect(learn(loose).mean).toBeGreaterThan(0.15);
  expect(learn([...loose, ...seized]).mean).toBeLessThan(0);
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
