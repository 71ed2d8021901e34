// Learning from trials: how far a setup's clearances come out from the computed ones, and what that is worth next time.
import { normalBetween } from '../measure/student.ts';
import type { FitBounds, FitWord } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';

/** One trial fit of a setup: what was computed, what the turner said. A reworked pair counts with the depth it ended at. */
export interface Trial {
  readonly label: string;
  readonly computedClearance: Length;
  /** Of the computed clearance; above zero. */
  readonly standardUncertainty: Length;
  readonly verdict: FitWord;
  readonly bounds: FitBounds;
}

/** What is believed of the bias before any trial: normal about 0, 0.15 mm (maths section 8). */
export interface BiasPrior {
  readonly mean: Length;
  readonly spread: Length;
}
export const defaultPrior: BiasPrior = { mean: mm(0), spread: mm(0.15) };

/** Biases and the weight of each; the weights add up to 1. */
export interface Belief {
  readonly biases: readonly number[];
  readonly weights: readonly number[];
}

const POINTS = 201;
const REACH = 5;

/** The clearances that a word stands for, from (inclusive) and to. */
export function wordRange(word: FitWord, bounds: FitBounds): readonly [number, number] {
  switch (word) {
    case 'seized':
      return [Number.NEGATIVE_INFINITY, 0];
    case 'tight':
      return [0, bounds.runningFrom];
    case 'running':
      return [bounds.runningFrom, bounds.looseFrom];
    case 'loose':
      return [bounds.looseFrom, Number.POSITIVE_INFINITY];
    default:
      return word satisfies never;
  }
}

export function priorBelief(prior: BiasPrior): Belief {
  if (!(prior.spread > 0)) throw new RangeError(`a prior's spread is above zero, not ${prior.spread}`);
  const z = Array.from({ length: POINTS }, (_, at) => REACH * ((2 * at) / (POINTS - 1) - 1));
  const biases = z.map((at) => prior.mean + at * prior.spread);
  return { biases, weights: scaled(z.map((at) => Math.exp((-at * at) / 2))) };
}

function scaled(weights: readonly number[]): readonly number[] {
  const sum = weights.reduce((so, weight) => so + weight, 0);
  return weights.map((weight) => weight / sum);
}

export const meanOf = ({ biases, weights }: Belief): number =>
  biases.reduce((so, bias, at) => so + bias * (weights[at] ?? 0), 0);

export function beliefSpread(belief: Belief): number {
  const mean = meanOf(belief);
  return Math.sqrt(
    belief.biases.reduce((so, bias, at) => so + (bias - mean) ** 2 * (belief.weights[at] ?? 0), 0),
  );
}

/** How likely the verdict was, for each bias. */
function likelihood(trial: Trial, biases: readonly number[]): readonly number[] {
  if (!(trial.standardUncertainty > 0))
    throw new RangeError(
      `trial "${trial.label}": standard uncertainty ${trial.standardUncertainty} is not above zero`,
    );
  const [low, high] = wordRange(trial.verdict, trial.bounds);
  return biases.map((bias) =>
    normalBetween(low, high, trial.computedClearance + bias, trial.standardUncertainty),
  );
}

/** A likelihood under this everywhere explains nothing: about six standard deviations beyond the farthest bias. */
const UNEXPLAINED = 1e-9;

export function update(belief: Belief, trial: Trial): Belief | undefined {
  const given = likelihood(trial, belief.biases);
  const weights = belief.weights.map((weight, at) => weight * (given[at] ?? 0));
  const total = weights.reduce((so, weight) => so + weight, 0);
  return total > UNEXPLAINED ? { biases: belief.biases, weights: scaled(weights) } : undefined;
}

/** A weight under this adds nothing that anyone could see. */
const NOTHING = 1e-12;

/** The chance that a pair computed to this clearance gives this word, over all that is believed of the bias. */
export function chanceOf(
  word: FitWord,
  computed: Length,
  standard: Length,
  bounds: FitBounds,
  belief: Belief,
): number {
  const [low, high] = wordRange(word, bounds);
  return belief.biases.reduce((so, bias, at) => {
    const weight = belief.weights[at] ?? 0;
    return weight < NOTHING ? so : so + weight * normalBetween(low, high, computed + bias, standard);
  }, 0);
}

/** Why the answer moved: every trial is listed, also one that moved nothing. */
export interface Reason {
  readonly trial: Trial;
  /** How far this trial, after those before it, moved the mean; these add up to the mean less the prior's. */
  readonly moved: Length;
  /** False when no bias within reach explains the verdict: it then moved nothing. */
  readonly explained: boolean;
}

export interface BiasLearned {
  /** True clearance less computed clearance, as now believed. */
  readonly mean: Length;
  readonly spread: Length;
  readonly reasons: readonly Reason[];
  /** The posterior itself. */
  readonly belief: Belief;
}

/** The posterior of the bias after these trials, in their order. No trial moves the answer without being a reason. */
export function learn(trials: readonly Trial[], prior: BiasPrior = defaultPrior): BiasLearned {
  let belief = priorBelief(prior);
  const reasons = trials.map((trial): Reason => {
    const next = update(belief, trial);
    const moved = mm(next ? meanOf(next) - meanOf(belief) : 0);
    belief = next ?? belief;
    return { trial, moved, explained: next !== undefined };
  });
  return { mean: mm(meanOf(belief)), spread: mm(beliefSpread(belief)), reasons, belief };
}

/** What learning advises for the next pair. */
export interface NextClearance {
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
function certainPart({ mean, spread }: BiasLearned): number {
  const beyond = Math.abs(mean) - CAUTION * spread;
  return beyond > 0 ? Math.sign(mean) * beyond : 0;
}

/**
 * The clearance to compute with so that what is wanted comes out: wanted less the part of the bias that is certain, or less
 * only a share of it where the whole would lower the chance of running. That chance is never below what no shift would give.
 */
export function advise(
  wanted: Length,
  standard: Length,
  bounds: FitBounds,
  learned: BiasLearned,
): NextClearance {
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
