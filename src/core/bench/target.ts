// The spigot's target with its band, what any other spigot would give, and the chance of each fit.
import { type Chances, chancesOf } from '../thread/chances.ts';
import {
  bandOf,
  type Fit,
  type FitWord,
  fitOf,
  fitWord,
  plainTarget,
  targetSpigot,
  type WordBounds,
} from '../thread/fit.ts';
import { type FitRefusal, fitRefusalText } from '../thread/pair.ts';
import { type Length, mm } from '../units.ts';
import { clearanceInDoubt, expectedLimitShift } from './doubt.ts';
import type { Job } from './job.ts';
import { outOfTrue, type SpigotSize } from './out-of-true.ts';
import { seasonLoss } from './seasons.ts';
import type { Setup } from './setup.ts';
import { isUnmeasured, pairOf } from './threads.ts';

/** The spigot aimed at. `low` is the loosest that runs, `high` the tightest. */
export interface Aim {
  readonly kind: 'aim';
  readonly bore: Length;
  readonly target: Length;
  readonly low: Length;
  readonly high: Length;
  readonly limit: Length;
  /** What learning took off or put on the target. */
  readonly shift: Length;
}

export type NoAim =
  | { readonly kind: 'missing'; readonly what: 'bore' }
  | { readonly kind: 'no-fit'; readonly why: string };

/** A plain lid runs within this of what is wanted, and is seized four times as far below: our own choice. */
const PLAIN_HALF_BAND = mm(0.05);
const PLAIN_SEIZED = mm(0.2);
/** Both ends of the band belong to it, even if rounding puts one just outside. */
const LAST_BIT = 1e-9;

/** What the range of humidity that the job is made for takes off its clearance; 0 where it is made for none. */
export function lossOverRange(job: Job): Length {
  const { season, plannedBore } = job.setup;
  const diameter = job.bore?.diameter ?? plannedBore;
  return (season && diameter && seasonLoss(job.setup, diameter, season)) || mm(0);
}

/**
 * The clearance wanted in the air the pair is made and tried in: what is to remain in the worst air of the range, and what
 * that air takes. Without a range both are one; a job begun before `remains` was kept has it worked out already.
 */
const wantedNow = (job: Job): Length => {
  const { season, wanted } = job.setup;
  return season?.remains === undefined ? wanted : mm(season.remains + lossOverRange(job));
};

/** The clearances that each word means: the turner's own for a thread, those around the wanted one for a plain lid. */
export function wordBounds({ fit, bounds }: Setup, wanted: Length): WordBounds {
  if (fit === 'threaded') return bounds;
  return {
    seizedBelow: mm(wanted - PLAIN_SEIZED),
    runningFrom: mm(wanted - PLAIN_HALF_BAND - LAST_BIT),
    looseFrom: mm(wanted + PLAIN_HALF_BAND + LAST_BIT),
  };
}

/** What each word means in the air the pair is tried in. */
export const boundsNow = (job: Job): WordBounds => wordBounds(job.setup, wantedNow(job));

/** What each word means over the range of humidity: the same, asked of what the worst air leaves. */
export function boundsOverRange(job: Job): WordBounds {
  const { seizedBelow = 0, runningFrom, looseFrom } = boundsNow(job);
  const loss = job.setup.fit === 'threaded' ? lossOverRange(job) : 0;
  return {
    seizedBelow: mm(seizedBelow + loss),
    runningFrom: mm(runningFrom + loss),
    looseFrom: mm(looseFrom + loss),
  };
}

/**
 * What the clearance is expected to be over the computed one, by geometry alone: the shallower of two uncertain depths
 * (chances.ts), and parts out of true (out-of-true.ts). Null is a spigot not turned yet, which is taken to come out true.
 */
const geometryShift = (job: Job, spigot: SpigotSize | null): number =>
  expectedLimitShift(job) - outOfTrue(job, spigot).loss;

/** Bounds on the computed clearance, so that the expected one, computed plus shift, lies in the turner's own. */
const shifted = ({ runningFrom, looseFrom }: WordBounds, shift: number): WordBounds => ({
  runningFrom: mm(runningFrom - shift),
  looseFrom: mm(looseFrom - shift),
});

const noFit = (refusal: FitRefusal): NoAim => ({ kind: 'no-fit', why: fitRefusalText(refusal) });

/** S = B + limit - c (fit.ts), with c the wanted clearance less what it is known to come out over. */
export function aimOf(job: Job): Aim | NoAim {
  if (!job.bore) return { kind: 'missing', what: 'bore' };
  const bore = job.bore.diameter;
  return job.setup.fit === 'plain' ? plainAim(job, bore) : threadedAim(job, bore);
}

const learnedShift = ({ learned }: Setup): Length => learned?.shift ?? mm(0);

function plainAim(job: Job, bore: Length): Aim | NoAim {
  const shift = learnedShift(job.setup);
  const aim = plainTarget(bore, mm(wantedNow(job) - shift - geometryShift(job, null)));
  if (aim.kind !== 'target') return noFit(aim);
  const low = mm(aim.spigot - PLAIN_HALF_BAND);
  const high = mm(aim.spigot + PLAIN_HALF_BAND);
  return { kind: 'aim', bore, target: aim.spigot, low, high, limit: mm(0), shift };
}

function threadedAim(job: Job, bore: Length): Aim | NoAim {
  const pair = pairOf(job, bore);
  const shift = learnedShift(job.setup);
  const over = shift + geometryShift(job, null);
  const aim = targetSpigot(pair, bore, mm(wantedNow(job) - over));
  if (aim.kind !== 'target') return noFit(aim);
  const band = bandOf(pair, bore, shifted(boundsOverRange(job), over));
  if (band.kind !== 'band') return noFit(band);
  return { kind: 'aim', bore, target: aim.spigot, low: band.low, high: band.high, limit: aim.limit, shift };
}

/** The fit that a spigot is expected to give at its tightest place and turn. */
export interface Expected {
  readonly kind: 'expected';
  /** By geometry, without what was learned. */
  readonly computed: Length;
  /** With what was learned: the mean of what is believed. */
  readonly clearance: Length;
  /** The same at its loosest place and turn. */
  readonly loosest: Length;
  /** Over the range of humidity the job is made for. */
  readonly word: FitWord;
  readonly fit: Fit | null;
}

type NotExpected =
  | NoAim
  /** A thread chased by hand whose depth nobody measured: the trial says what it fits. */
  | { readonly kind: 'unmeasured' };

export const expectedOf = (job: Job, spigot: SpigotSize): Expected | NotExpected =>
  isUnmeasured(job) ? { kind: 'unmeasured' } : expectedAsPlanned(job, spigot);

/** The same where a thread that nobody measured counts as deep as it is planned. */
export function expectedAsPlanned(job: Job, spigot: SpigotSize): Expected | NoAim {
  if (!job.bore) return { kind: 'missing', what: 'bore' };
  const { setup } = job;
  const fit =
    setup.fit === 'plain' ? null : fitOf(pairOf(job, job.bore.diameter), job.bore.diameter, spigot.diameter);
  if (fit && fit.kind !== 'fit') return noFit(fit);
  const bare = fit ? fit.clearance : job.bore.diameter - spigot.diameter;
  const computed = mm(bare + geometryShift(job, spigot));
  const clearance = mm(computed + (setup.learned?.mean ?? learnedShift(setup)));
  const loosest = mm(clearance + outOfTrue(job, spigot).spread);
  return {
    kind: 'expected',
    computed,
    clearance,
    loosest,
    word: fitWord(clearance, boundsOverRange(job)),
    fit,
  };
}

/** The chance of each fit of this spigot, in the air it is first tried in unless by other bounds; null while there is nothing to judge. */
export function trialChances(job: Job, spigot: SpigotSize, bounds = boundsNow(job)): Chances | null {
  const expected = expectedOf(job, spigot);
  const doubt = clearanceInDoubt(job);
  return expected.kind === 'expected' && doubt ? chancesOf(expected.clearance, doubt, bounds) : null;
}

/** How far a spigot is from the target. */
export type Zone = 'far' | 'near' | 'at' | 'under' | 'past';

/** Diametral distance from the target at which the turner is warned to slow down; our own choice. */
export const NEAR = mm(0.5);
/** Half of what counts as at the target; never less than two steps of the caliper. */
export const AT = mm(0.02);
/** No caliper shows less than tenths: a number typed with fewer digits is short, not coarse. */
const COARSEST = mm(0.1);

export function zoneOf(aim: Aim, value: Length, step: Length): Zone {
  const over = value - aim.target;
  const at = Math.max(AT, 2 * Math.min(step, COARSEST)) * (1 + 1e-9);
  if (over > NEAR) return 'far';
  if (over > at) return 'near';
  if (over >= -at) return 'at';
  return value >= aim.low ? 'under' : 'past';
}
