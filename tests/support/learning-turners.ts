// Simulated turners with a hidden bias: they make one box after another, and the program learns from each.
import { priorSpread, shiftFor, type Trial, taughtBy, untaught } from '../../src/core/learn/bias.ts';
import { meanOf, normalBetween, spreadOf } from '../../src/core/statistics.ts';
import { defaultBounds, type FitWord, fitWord } from '../../src/core/thread/fit.ts';
import { mm } from '../../src/core/units.ts';
import { type Chance, chanceFrom } from './chance.ts';

export interface Turner {
  readonly wanted: number;
  /** Standard uncertainty of each clearance, as stated. */
  readonly standard: number;
  /** How many times as much it really scatters. */
  readonly times?: number;
  /** Hidden: true clearance less computed; by the box where it changes. */
  readonly bias: number | ((box: number) => number);
}

const biasAt = ({ bias }: Turner, box: number): number => (typeof bias === 'number' ? bias : bias(box));

/** The true chance of running at the first trial; known here because the bias is. */
export const success = (turner: Turner, box: number, computed: number): number =>
  normalBetween(
    defaultBounds.runningFrom,
    defaultBounds.looseFrom,
    computed + biasAt(turner, box),
    turner.standard * (turner.times ?? 1),
  );

/** One box of a turner who learns: what it was computed to, what came of it, and how sure the program was before and after. */
export interface Made {
  readonly computed: number;
  readonly verdict: FitWord;
  readonly before: number;
  readonly after: number;
}

/** Boxes of which each was computed with what the earlier ones taught. */
export function taught(chance: Chance, turner: Turner, boxes: number): readonly Made[] {
  const { wanted, standard, times = 1 } = turner;
  let learned = untaught(priorSpread('threaded'));
  return Array.from({ length: boxes }, (_, box) => {
    const computed = wanted - shiftFor(mm(wanted), mm(standard), defaultBounds, learned);
    const came = mm(computed + biasAt(turner, box) + times * standard * chance.normal());
    const verdict = fitWord(came, defaultBounds);
    const trial: Trial = {
      pair: `box ${box}`,
      label: `box ${box + 1}`,
      computedClearance: mm(computed),
      standardUncertainty: mm(standard),
      verdict,
      bounds: defaultBounds,
    };
    const before = learned.spread;
    learned = taughtBy(learned, trial);
    return { computed, verdict, before, after: learned.spread };
  });
}

export interface Schooling {
  /** Mean chance of running over the boxes without learning. */
  readonly before: number;
  /** Mean change that learning brought over all boxes and over the last one, in shares of 1, with its standard uncertainty. */
  readonly gain: number;
  readonly last: number;
  readonly doubt: number;
}

export function school(turner: Turner, boxes: number, turners: number, seed: number): Schooling {
  const chance = chanceFrom(seed);
  const without = Array.from({ length: boxes }, (_, box) => success(turner, box, turner.wanted));
  const runs = Array.from({ length: turners }, () =>
    taught(chance, turner, boxes).map(
      ({ computed }, box) => success(turner, box, computed) - (without[box] ?? 0),
    ),
  );
  const { mean: gain, deviation } = spreadOf(runs.map(meanOf));
  return {
    before: meanOf(without),
    gain,
    last: meanOf(runs.map((run) => run.at(-1) ?? 0)),
    doubt: deviation / Math.sqrt(turners),
  };
}
