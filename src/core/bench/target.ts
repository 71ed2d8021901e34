// What the spigot is to be: the pair as really cut, the target with its band, and what any other spigot would give.
import {
  bandOf,
  type Fit,
  type FitBounds,
  type FitWord,
  fitOf,
  fitWord,
  plainTarget,
  targetSpigot,
} from '../thread/fit.ts';
import { wideningOf } from '../thread/milling.ts';
import { type FitRefusal, fitRefusalText, type Pair } from '../thread/pair.ts';
import { type Length, mm } from '../units.ts';
import type { Job } from './job.ts';
import type { Part, Setup } from './setup.ts';

/** The spigot aimed at. `low` is the loosest that runs, `high` the tightest. */
export interface Aim {
  readonly kind: 'aim';
  readonly bore: Length;
  readonly target: Length;
  readonly low: Length;
  readonly high: Length;
  readonly limit: Length;
  /** What learning took off or put on: expected clearance less computed clearance. */
  readonly shift: Length;
}

export type NoAim =
  | { readonly kind: 'missing'; readonly what: 'bore' }
  | { readonly kind: 'no-fit'; readonly why: string };

/** A plain lid's band about its target: our own choice, as wide as the running band is about a thread's. */
const PLAIN_HALF_BAND = 0.05;

/** The depth really cut, or the planned one while there is none. */
export const cutDepth = (job: Job, part: Part): Length =>
  job.threads[part].cut?.depth ?? job.setup.depth[part];

/** Both threads as cut so far; a groove not yet cut stands at its planned depth. */
export function pairOf(job: Job, bore: Length): Pair {
  const { setup } = job;
  const groove = (part: Part) => {
    const depth = cutDepth(job, part);
    const widening = setup.cutter.diameter ? wideningOf(setup, part, bore, depth) : mm(0);
    return { depth, tip: setup.cutter.tip, widening };
  };
  return {
    pitch: setup.pitch.length,
    starts: setup.starts,
    angle: setup.cutter.angle,
    female: groove('female'),
    male: groove('male'),
  };
}

const shiftOf = (setup: Setup): Length => setup.learned?.shift ?? mm(0);

/** Bounds on the computed clearance, so that the expected one (computed plus shift) lies in the turner's own. */
const shifted = (bounds: FitBounds, shift: Length): FitBounds => ({
  runningFrom: mm(bounds.runningFrom - shift),
  looseFrom: mm(bounds.looseFrom - shift),
});

const noFit = (refusal: FitRefusal): NoAim => ({ kind: 'no-fit', why: fitRefusalText(refusal) });

/** S = B + limit - c, with c the wanted clearance less what trials say it comes out over (maths section 2 and 8; derived). */
export function aimOf(job: Job): Aim | NoAim {
  if (!job.bore) return { kind: 'missing', what: 'bore' };
  const bore = job.bore.diameter;
  return job.setup.fit === 'plain' ? plainAim(job.setup, bore) : threadedAim(job, bore);
}

function plainAim(setup: Setup, bore: Length): Aim | NoAim {
  const shift = shiftOf(setup);
  const aim = plainTarget(bore, mm(setup.wanted - shift));
  if (aim.kind !== 'target') return noFit(aim);
  const low = mm(aim.spigot - PLAIN_HALF_BAND);
  const high = mm(aim.spigot + PLAIN_HALF_BAND);
  return { kind: 'aim', bore, target: aim.spigot, low, high, limit: mm(0), shift };
}

function threadedAim(job: Job, bore: Length): Aim | NoAim {
  const pair = pairOf(job, bore);
  const shift = shiftOf(job.setup);
  const aim = targetSpigot(pair, bore, mm(job.setup.wanted - shift));
  if (aim.kind !== 'target') return noFit(aim);
  const band = bandOf(pair, bore, shifted(job.setup.bounds, shift));
  if (band.kind !== 'band') return noFit(band);
  return { kind: 'aim', bore, target: aim.spigot, low: band.low, high: band.high, limit: aim.limit, shift };
}

/** The fit that a spigot of this diameter is expected to give. */
export interface Expected {
  readonly kind: 'expected';
  /** As computed, without what was learned. */
  readonly computed: Length;
  /** With what was learned. */
  readonly clearance: Length;
  readonly word: FitWord;
  readonly fit: Fit | null;
}

export function expectedOf(job: Job, spigot: Length): Expected | NoAim {
  if (!job.bore) return { kind: 'missing', what: 'bore' };
  const { setup } = job;
  const shift = shiftOf(setup);
  if (setup.fit === 'plain') {
    const computed = mm(job.bore.diameter - spigot);
    const clearance = mm(computed + shift);
    return { kind: 'expected', computed, clearance, word: plainWord(setup, clearance), fit: null };
  }
  const fit = fitOf(pairOf(job, job.bore.diameter), job.bore.diameter, spigot, setup.bounds);
  if (fit.kind !== 'fit') return noFit(fit);
  const clearance = mm(fit.clearance + shift);
  return {
    kind: 'expected',
    computed: fit.clearance,
    clearance,
    word: fitWord(clearance, setup.bounds),
    fit,
  };
}

/** A plain lid is right within its band about what was wanted; tighter or looser outside it. */
function plainWord(setup: Setup, clearance: Length): FitWord {
  const over = clearance - setup.wanted;
  if (Math.abs(over) <= PLAIN_HALF_BAND) return 'running';
  if (over > 0) return 'loose';
  return over < -4 * PLAIN_HALF_BAND ? 'seized' : 'tight';
}

/** Where a spigot stands on its way down to the target. */
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
