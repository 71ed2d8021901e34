// Whether the program is as sure as it should be: for each budget of a job, stated and observed intervals, predicted and observed
// chances; and what learning gains simulated turners with honest and understated scatter, with and without a hidden bias.
import { meanOf } from '../../src/core/statistics.ts';
import { FIT_ORDER } from '../../src/core/thread/fit.ts';
import { type Coverage, coverageOf, SITUATIONS, worstChance } from '../support/coverage.ts';
import { type Schooling, school, type Turner } from '../support/learning-turners.ts';

const TRIALS = 5000;
const COVERAGE_SEED = 17;

const percent = (share: number): string => (100 * share).toFixed(1);

const words = ({ words: of }: Coverage): string =>
  FIT_ORDER.map((word) => `${word} ${percent(of[word].predicted)}/${percent(of[word].observed)}`).join(', ');

/** Prints a row for each situation; gives the coverage farthest from 95 % and the chance farthest from what came. */
export function printCoverage(): { readonly interval: number; readonly chance: number } {
  console.log(`\nCoverage, ${TRIALS} jobs a row: 95 % stated; chances predicted/observed; bias in mm`);
  console.log('situation | in the interval | bias | chances of each word');
  const found = SITUATIONS.map((situation) => {
    const coverage = coverageOf(situation, TRIALS, COVERAGE_SEED);
    console.log(
      `${coverage.name} | ${percent(coverage.covered)} % | ${coverage.bias.toFixed(3)} | ${words(coverage)}`,
    );
    return coverage;
  });
  return {
    interval: Math.max(...found.map(({ covered }) => Math.abs(covered - 0.95))),
    chance: Math.max(...found.map(worstChance)),
  };
}

const [TURNERS, BOXES, SEED] = [100, 30, 5];

const SETTINGS: readonly Turner[] = [0.15, 0.19].flatMap((wanted) =>
  [0.05, 0.09].flatMap((standard) =>
    [1, 1.25, 1.5, 2].flatMap((times) =>
      [0, 0.07, -0.07, 0.15, -0.15].map((bias) => ({ wanted, standard, times, bias })),
    ),
  ),
);

const points = (share: number): string => `${share < 0 ? '' : '+'}${(100 * share).toFixed(2)}`;

const line = (
  { wanted, standard, times = 1, bias }: Turner,
  { before, gain, last, doubt }: Schooling,
): string =>
  [
    `${wanted} mm`,
    `${standard} mm`,
    `${times}x`,
    `${bias} mm`,
    `${(100 * before).toFixed(1)} %`,
    `${points(gain)} +/- ${(100 * doubt).toFixed(2)}`,
    points(last),
  ].join(' | ');

/** Prints a row for each setting; gives the worst and the mean change of the chance of running at the first trial. */
export function printLearning(): { readonly worst: number; readonly mean: number } {
  console.log(
    `\nLearning, ${SETTINGS.length} settings, ${TURNERS} turners of ${BOXES} boxes each, in points`,
  );
  console.log('wanted | stated scatter | real | hidden bias | without | all boxes (s) | last box');
  const gains = SETTINGS.map((turner) => {
    const schooling = school(turner, BOXES, TURNERS, SEED);
    console.log(line(turner, schooling));
    return schooling.gain;
  });
  return { worst: Math.min(...gains), mean: meanOf(gains) };
}
