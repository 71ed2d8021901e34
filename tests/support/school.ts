// Simulated turners with a hidden bias, who make one box after the other and learn from each.
import { advise, learn, type Trial } from '../../src/core/learn/bias.ts';
import { normalBetween } from '../../src/core/measure/student.ts';
import { defaultBounds, fitWord } from '../../src/core/thread/fit.ts';
import { type Length, mm } from '../../src/core/units.ts';
import { type Chance, chanceFrom } from './chance.ts';

export interface Turner {
  readonly wanted: number;
  /** Standard uncertainty of each clearance, and its real scatter. */
  readonly standard: number;
  /** Hidden: true clearance less computed. */
  readonly bias: number;
}

/** So many boxes made one after the other, each computed with what the earlier ones taught; the clearance for the next. */
export function taught(chance: Chance, { wanted, standard, bias }: Turner, boxes: number): Length {
  const trials: Trial[] = [];
  let computed = mm(wanted);
  for (let box = 0; box < boxes; box++) {
    const came = mm(computed + bias + standard * chance.normal());
    trials.push({
      label: `box ${box + 1}`,
      computedClearance: computed,
      standardUncertainty: mm(standard),
      verdict: fitWord(came, defaultBounds),
      bounds: defaultBounds,
    });
    computed = advise(mm(wanted), mm(standard), defaultBounds, learn(trials)).computedClearance;
  }
  return computed;
}

/** The true chance of running at the first trial; known here because the bias is. */
export const success = ({ standard, bias }: Turner, computed: number): number =>
  normalBetween(defaultBounds.runningFrom, defaultBounds.looseFrom, computed + bias, standard);

export interface Schooling {
  readonly before: number;
  /** Mean change of the chance of running that learning brought, with its own standard uncertainty. */
  readonly gain: number;
  readonly doubt: number;
}

export function school(turner: Turner, boxes: number, turners: number, seed: number): Schooling {
  const chance = chanceFrom(seed);
  const before = success(turner, turner.wanted);
  const gains = Array.from(
    { length: turners },
    () => success(turner, taught(chance, turner, boxes)) - before,
  );
  const gain = gains.reduce((so, one) => so + one, 0) / turners;
  const variance = gains.reduce((so, one) => so + (one - gain) ** 2, 0) / (turners - 1);
  return { before, gain, doubt: Math.sqrt(variance / turners) };
}
