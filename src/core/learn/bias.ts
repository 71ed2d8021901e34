// Learning from trials: how far this setup's clearances come out from the computed ones, and what that is worth next time.
import type { FitBounds } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';
import {
  type Belief,
  chanceOf,
  defaultPrior,
  meanOf,
  type Prior,
  priorBelief,
  spreadOf,
  type Trial,
  update,
} from './belief.ts';

export { chanceOf, type Prior, type Trial, wordRange } from './belief.ts';

/** Why the answer moved: every trial is listed, also one that moved nothing. */
export interface Reason {
  readonly trial: Trial;
  /** How far this trial, after those before it, moved the mean; these add up to the mean less the prior's. */
  readonly moved: Length;
  /** False when no bias within reach explains the verdict: it then moved nothing. */
  readonly explained: boolean;
}

export interface Learned {
  /** True clearance less computed clearance, as now believed. */
  readonly mean: Length;
  readonly spread: Length;
  readonly reasons: readonly Reason[];
  /** The posterior itself. */
  readonly belief: Belief;
}

/** The posterior of the bias after these trials, in their order. No trial moves the answer without being a reason. */
export function learn(trials: readonly Trial[], prior: Prior = defaultPrior): Learned {
  let belief = priorBelief(prior);
  const reasons = trials.map((trial): Reason => {
    const next = update(belief, trial);
    const moved = mm(next ? meanOf(next) - meanOf(belief) : 0);
    belief = next ?? belief;
    return { trial, moved, explained: next !== undefined };
  });
  return { mean: mm(meanOf(belief)), spread: mm(spreadOf(belief)), reasons, belief };
}

/** What learning advises for the next pair. */
export interface Advice {
  /** Take this as the clearance to compute with. */
  readonly computedClearance: Length;
  /** How much of the bias is corrected: expected clearance less computed clearance. */
  readonly shift: Length;
  readonly chanceOfRunning: number;
  /** The same without any shift, for comparison. */
  readonly chanceWithout: number;
}

const STEPS = 10;

/**
 * How many spreads of the bias are left uncorrected; our own figure. Correcting the whole mean cost simulated turners without
 * a bias up to 6 points of chance; with this the cost stayed within half a point (tests/bench/learning).
 */
export const CAUTION = 1.25;

/** The part of the bias that stands out of its spread. */
function certainPart({ mean, spread }: Learned): number {
  const beyond = Math.abs(mean) - CAUTION * spread;
  return beyond > 0 ? Math.sign(mean) * beyond : 0;
}

/**
 * The clearance to compute with so that what is wanted comes out: wanted less the part of the bias that is certain, or less
 * only a share of it where the whole would lower the chance of running. That chance is never below what no shift would give.
 */
export function advise(wanted: Length, standard: Length, bounds: FitBounds, learned: Learned): Advice {
  const certain = certainPart(learned);
  const chance = (shift: number): number =>
    chanceOf('running', mm(wanted - shift), standard, bounds, learned.belief);
  const chanceWithout = chance(0);
  let best = { shift: 0, chance: chanceWithout };
  for (let step = 1; step <= STEPS && certain !== 0; step++) {
    const shift = (certain * step) / STEPS;
    const here = chance(shift);
    if (here > best.chance) best = { shift, chance: here };
  }
  return {
    computedClearance: mm(wanted - best.shift),
    shift: mm(best.shift),
    chanceOfRunning: best.chance,
    chanceWithout,
  };
}
