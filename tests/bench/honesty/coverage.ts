// The table of coverage: for every budget a job may have, stated and observed intervals, predicted and observed chances.
import { type Coverage, coverageOf, SITUATIONS, WORDS, worstChance } from '../../support/coverage.ts';

const TRIALS = 5000;
const SEED = 17;

const percent = (share: number): string => (100 * share).toFixed(1);

const words = ({ words: of }: Coverage): string =>
  WORDS.map((word) => `${word} ${percent(of[word].predicted)}/${percent(of[word].observed)}`).join(', ');

/** Prints a row for each situation; gives the coverage farthest from 95 % and the chance farthest from what came. */
export function printCoverage(): { readonly interval: number; readonly chance: number } {
  console.log(`\nCoverage, ${TRIALS} jobs a row: 95 % stated; chances predicted/observed; bias in mm`);
  console.log('situation | in the interval | bias | chances of each word');
  const found = SITUATIONS.map((situation) => {
    const coverage = coverageOf(situation, TRIALS, SEED);
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
