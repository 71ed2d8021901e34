// Learning: what one verdict says, what is passed over, and how much of a bias is corrected.
import { expect, test } from 'vitest';
import { advise, CAUTION, chanceOf, learn, type Trial, wordRange } from '../../src/core/learn/bias.ts';
import { defaultBounds, type FitWord } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';

const trial = (verdict: FitWord, computed = 0.15, standard = 0.05): Trial => ({
  label: `${verdict} at ${computed}`,
  computedClearance: mm(computed),
  standardUncertainty: mm(standard),
  verdict,
  bounds: defaultBounds,
});
const repeated = (times: number, of: Trial): readonly Trial[] => Array.from({ length: times }, () => of);

test('without trials the bias is what it was taken for: none, give or take 0.15 mm', () => {
  const { mean, spread, reasons } = learn([]);
  expect(mean).toBeCloseTo(0, 12);
  expect(spread).toBeCloseTo(0.15, 4);
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
  for (let bias = -0.75; bias <= 0.75; bias += 0.001) {
    let inside = 0;
    for (let c = low; c < high; c += 0.001) inside += phi((c + 0.0005 - 0.15 - bias) / 0.05);
    weight += inside * phi(bias / 0.15);
    mean += bias * inside * phi(bias / 0.15);
  }
  expect(learn([trial('running')]).mean).toBeCloseTo(mean / weight, 4);
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

test('a reworked pair counts with the clearance it ended at', () => {
  const reworked = learn([trial('tight', 0.15), trial('running', 0.35)]);
  expect(reworked.mean).toBeLessThan(-0.05);
});

test('the advice corrects what stands out of the spread, and nothing else', () => {
  const unsure = learn([trial('running')]);
  expect(advise(mm(0.15), mm(0.05), defaultBounds, unsure).shift).toBe(0);
  const sure = learn(repeated(5, trial('seized', 0.15)));
  const advice = advise(mm(0.15), mm(0.05), defaultBounds, sure);
  expect(advice.shift).toBeCloseTo(sure.mean + CAUTION * sure.spread, 9);
  expect(advice.computedClearance).toBeCloseTo(0.15 - advice.shift, 12);
  expect(advice.chanceOfRunning).toBeGreaterThan(advice.chanceWithout);
});

test('the chances of the four words add up to one', () => {
  const { belief } = learn([trial('tight')]);
  const words = ['seized', 'tight', 'running', 'loose'] as const;
  const sum = words.reduce((so, word) => so + chanceOf(word, mm(0.15), mm(0.05), defaultBounds, belief), 0);
  expect(sum).toBeCloseTo(1, 9);
});

test('a trial without doubt, or a belief without spread, is a mistake of the program', () => {
  expect(() => learn([trial('tight', 0.1, 0)])).toThrow(RangeError);
  expect(() => learn([], { mean: mm(0), spread: mm(0) })).toThrow(RangeError);
});
