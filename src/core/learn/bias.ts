// Learning from trials: how far this setup's clearances come out from the computed ones, and how much to correct the next one.
import { normalBetween } from '../statistics.ts';
import type { FitWord, WordBounds } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';

/** One trial of a pair: what was computed, what the turner said. */
export interface Trial {
  /** Trials of one pair share its errors of measuring and touching off; a reworked pair has several. */
  readonly pair: string;
  readonly label: string;
  readonly computedClearance: Length;
  /** Of the computed clearance, without the bias; above zero. */
  readonly standardUncertainty: Length;
  readonly verdict: FitWord;
  readonly bounds: WordBounds;
}

/** The bias of a setup before any trial is normal about 0 with this spread; our own choice. A plain lid has no depths to miss. */
const PRIOR_SPREAD = { threaded: mm(0.15), plain: mm(0.05) } as const;
export const priorSpread = (fit: keyof typeof PRIOR_SPREAD): Length => PRIOR_SPREAD[fit];

/** How many times larger than stated the scatter may really be, and how likely that is before any trial; our own choice. */
const SCATTERS = [
  { times: 1, weight: 0.6 },
  { times: 1.5, weight: 0.25 },
  { times: 2.25, weight: 0.15 },
] as const;

/** The chance that between one box and the next something changed and the bias is anybody's guess again; our own choice. */
const CHANGED = 0.04;

/** One bias with one scatter, and how strongly both are believed. */
interface Point {
  readonly bias: number;
  readonly times: number;
  readonly weight: number;
}
/** All points; their weights add up to 1. */
type Belief = readonly Point[];

const POINTS = 81;
const REACH = 4;

/** The clearances that a word means, from (inclusive) and to. */
export function wordRange(word: FitWord, bounds: WordBounds): readonly [number, number] {
  const { seizedBelow = 0, runningFrom, looseFrom } = bounds;
  const ranges: { readonly [of in FitWord]: readonly [number, number] } = {
    seized: [Number.NEGATIVE_INFINITY, seizedBelow],
    tight: [seizedBelow, runningFrom],
    running: [runningFrom, looseFrom],
    loose: [looseFrom, Number.POSITIVE_INFINITY],
  };
  return ranges[word];
}

const sumOf = (weights: readonly number[]): number => weights.reduce((so, weight) => so + weight, 0);

function scaled(points: Belief): Belief {
  const sum = sumOf(points.map(({ weight }) => weight));
  return points.map((point) => ({ ...point, weight: point.weight / sum }));
}

function priorBelief(spread: Length): Belief {
  if (!(spread > 0)) throw new RangeError(`the spread of a bias is above zero, not ${spread}`);
  const z = Array.from({ length: POINTS }, (_, at) => REACH * ((2 * at) / (POINTS - 1) - 1));
  return scaled(
    SCATTERS.flatMap(({ times, weight }) =>
      z.map((at) => ({ bias: at * spread, times, weight: weight * Math.exp((-at * at) / 2) })),
    ),
  );
}

/** Mean and standard deviation of the bias. */
function momentsOf(belief: Belief): { readonly mean: Length; readonly spread: Length } {
  const mean = sumOf(belief.map(({ bias, weight }) => bias * weight));
  const variance = sumOf(belief.map(({ bias, weight }) => (bias - mean) ** 2 * weight));
  return { mean: mm(mean), spread: mm(Math.sqrt(variance)) };
}

/** With the chance CHANGED the bias was drawn again from the prior (derived: the mixture of both cases, the scatter being kept). */
function faded(belief: Belief, prior: Belief): Belief {
  return SCATTERS.flatMap(({ times, weight: first }) => {
    const fresh = prior.filter((point) => point.times === times);
    const old = belief.filter((point) => point.times === times);
    const now = sumOf(old.map(({ weight }) => weight)) / first;
    return old.map((point, at) => ({
      ...point,
      weight: (1 - CHANGED) * point.weight + CHANGED * now * (fresh[at]?.weight ?? 0),
    }));
  });
}

/** A weight under this adds nothing that anyone could see. */
const NOTHING = 1e-9;

/** Where bias and the pair's own error together must lie for a verdict. */
type Interval = readonly [low: number, high: number];
const EVERYWHERE: Interval = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];

/** Trials of one pair differ by what was cut in between, not by their errors: what they say together is where their ranges meet. */
function narrowed([low, high]: Interval, trial: Trial): Interval {
  const [from, to] = wordRange(trial.verdict, trial.bounds);
  return [Math.max(low, from - trial.computedClearance), Math.min(high, to - trial.computedClearance)];
}

/** How strongly each point is believed with what a pair said; together they are the chance of that. */
const given = (belief: Belief, [low, high]: Interval, standard: Length): readonly number[] =>
  belief.map(({ bias, times, weight }) =>
    low >= high || weight < NOTHING ? 0 : weight * normalBetween(low, high, bias, times * standard),
  );

/** The chance of what a pair said, over all that is believed. */
const likelihood = (belief: Belief, interval: Interval, standard: Length): number =>
  sumOf(given(belief, interval, standard));

/**
 * What is believed as a pair comes in. Old lessons fade when it contradicts them, and stand while it doesn't: it speaks for a
 * change only where it is likelier before any trial than by the lessons (Bayes: that ratio times CHANGED is the odds of a change).
 * Fading before every pair, as the mixture alone would have it, made the program less sure by 4 in 10 successes of turners whose
 * bias it knew; that is why it doesn't (our own choice).
 */
function metBy(belief: Belief, prior: Belief, interval: Interval, standard: Length): Belief {
  const contradicts = likelihood(prior, interval, standard) > likelihood(belief, interval, standard);
  return contradicts ? faded(belief, prior) : belief;
}

/** A likelihood under this everywhere explains nothing: about six standard deviations beyond the farthest bias. */
const UNEXPLAINED = 1e-9;

/** The belief after a pair said that bias and error lie in this interval; undefined when no bias within reach explains that. */
function update(belief: Belief, interval: Interval, standard: Length): Belief | undefined {
  const weights = given(belief, interval, standard);
  const total = sumOf(weights);
  if (total <= UNEXPLAINED) return undefined;
  return belief.map((point, at) => ({ ...point, weight: (weights[at] ?? 0) / total }));
}

/** Why the answer moved: every trial is listed, also one that moved nothing. */
interface Reason {
  readonly trial: Trial;
  /** How far this trial, after those before it, moved the mean. */
  readonly moved: Length;
  /** False when no bias within reach explains the verdict: it then moved nothing. */
  readonly explained: boolean;
}

/** What is believed of a setup's bias, true clearance less computed clearance, ready for one more trial. */
interface BiasLearned {
  readonly mean: Length;
  readonly spread: Length;
  readonly reasons: readonly Reason[];
  readonly belief: Belief;
  readonly prior: Belief;
  /** The pair that was tried last: what was believed before it, and what its trials say together. */
  readonly last: { readonly pair: string; readonly before: Belief; readonly interval: Interval } | null;
}

/** What is believed before any trial. Throws a RangeError for a spread that is not above zero. */
export function untaught(spread: Length): BiasLearned {
  const prior = priorBelief(spread);
  return { ...momentsOf(prior), reasons: [], belief: prior, prior, last: null };
}

/** One trial more. Throws a RangeError for a trial without a standard uncertainty above zero. */
export function taughtBy(learned: BiasLearned, trial: Trial): BiasLearned {
  const { prior, last } = learned;
  const { standardUncertainty: standard } = trial;
  if (!(standard > 0))
    throw new RangeError(`trial "${trial.label}": standard uncertainty ${standard} is not above zero`);
  const same = last !== null && last.pair === trial.pair;
  const before = same ? last.before : learned.belief;
  const known = same ? last.interval : EVERYWHERE;
  const interval = narrowed(known, trial);
  const next = update(metBy(before, prior, interval, standard), interval, standard);
  const belief = next ?? learned.belief;
  const moments = momentsOf(belief);
  const reason = { trial, moved: mm(moments.mean - learned.mean), explained: next !== undefined };
  return {
    ...moments,
    reasons: [...learned.reasons, reason],
    belief,
    prior,
    last: { pair: trial.pair, before, interval: next ? interval : known },
  };
}

/** What these trials, oldest first, say of the bias of one setup; `spread` is what is believed of it before any. */
export const learn = (trials: readonly Trial[], spread: Length = PRIOR_SPREAD.threaded): BiasLearned =>
  trials.reduce(taughtBy, untaught(spread));

/** The chance that a pair computed to this clearance gives this word, over all that is believed. */
export function chanceOf(
  word: FitWord,
  computed: Length,
  standard: Length,
  bounds: WordBounds,
  belief: Belief,
): number {
  const [low, high] = wordRange(word, bounds);
  return likelihood(belief, [low - computed, high - computed], standard);
}

const STEPS = 10;

/**
 * How many spreads of the bias are left uncorrected; our own figure. Correcting the whole mean cost simulated turners without
 * a bias up to 6 points of chance; with this the cost stayed within half a point (`npm run bench learning`).
 */
export const CAUTION = 1.5;

/** The part of the bias that is larger than its spread. */
function certainPart({ mean, spread }: BiasLearned): number {
  const beyond = Math.abs(mean) - CAUTION * spread;
  return beyond > 0 ? Math.sign(mean) * beyond : 0;
}

/**
 * How far to shift the clearance that is computed with, so that what is wanted comes out: by the part of the bias that is
 * certain, or by only a share of it where the whole would lower the chance of running; by nothing where any shift would.
 */
export function shiftFor(wanted: Length, standard: Length, bounds: WordBounds, learned: BiasLearned): Length {
  const certain = certainPart(learned);
  const chance = (shift: number): number =>
    chanceOf('running', mm(wanted - shift), standard, bounds, learned.belief);
  let best = { shift: 0, chance: chance(0) };
  for (let step = 1; step <= STEPS && certain !== 0; step++) {
    const shift = (certain * step) / STEPS;
    const here = chance(shift);
    if (here > best.chance) best = { shift, chance: here };
  }
  return mm(best.shift);
}
