// Teaching at the virtual bench: how fast its time runs, which mishaps were ordered, and the true sizes beside the kept ones.
import { type FitWord, fitOf, fitWord } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';
import type { Stage } from './entry.ts';
import type { Job } from './job.ts';
import type { Part } from './setup.ts';
import { boundsNow, expectedOf } from './target.ts';
import { pairOf } from './threads.ts';

/** What can be made to go wrong. */
export const MISHAPS = ['small-bore', 'bad-lines', 'lost-count', 'tight-trial'] as const;
export type Mishap = (typeof MISHAPS)[number];

/** What belongs to a stage; damaged lines can come at any. */
export function mishapAt(stage: Stage): Mishap | null {
  if (stage === 'bore size') return 'small-bore';
  if (stage === 'trial') return 'tight-trial';
  return stage.endsWith('thread') ? 'lost-count' : null;
}

/** What the work really measures, which only a simulation knows. */
export interface Truth {
  readonly bore: Length;
  readonly spigot: Length | null;
  /** Of the grooves as cut; 0 for one that was not. */
  readonly depth: { readonly [part in Part]: Length };
}

export interface Teaching {
  /** Milliseconds of the virtual bench that pass in one of the clock's. */
  readonly pace: number;
  readonly paused: boolean;
  /** What went wrong on request, in order. */
  readonly mishaps: readonly Mishap[];
  /** Null where the job was begun in an earlier sitting: its wood is gone. */
  readonly truth: Truth | null;
}

/** Orders to the virtual bench. */
export type TeachingOrder = 'pause' | 'slower' | 'faster' | 'jaws-left' | 'jaws-right' | Mishap;

export const isMishap = (order: TeachingOrder): order is Mishap =>
  (MISHAPS as readonly TeachingOrder[]).includes(order);

interface PairOutcome {
  readonly clearance: Length;
  readonly word: FitWord;
}

interface Beside {
  readonly kept: Length;
  readonly real: Length;
}

export interface ComparedWithTruth {
  readonly bore: Beside;
  readonly spigot: Beside;
  /** Only grooves that were cut on the virtual bench and kept. */
  readonly depth: { readonly [part in Part]: Beside | null };
  /** As the bench worked it out from what was kept, and as it is; null where such threads have no fit. */
  readonly computed: PairOutcome | null;
  readonly real: PairOutcome | null;
}

const depthBeside = ({ threads }: Job, { depth }: Truth, part: Part): Beside | null => {
  const { cut } = threads[part];
  return cut && depth[part] > 0 ? { kept: cut.depth, real: depth[part] } : null;
};

/** The clearance that the true sizes give by geometry alone; a groove that was never cut counts as the job has it. */
function realClearance(job: Job, { bore, spigot, depth }: Truth): Length | null {
  if (spigot === null) return null;
  if (job.setup.fit === 'plain') return mm(bore - spigot);
  const thread = (part: Part) => {
    const groove = { kind: 'thread-cut', part, detents: null, depth: depth[part], proven: false } as const;
    return depth[part] > 0 ? { ...job.threads[part], cut: groove } : job.threads[part];
  };
  const asCut: Job = { ...job, threads: { female: thread('female'), male: thread('male') } };
  const fit = fitOf(pairOf(asCut, bore), bore, spigot);
  return fit.kind === 'fit' ? fit.clearance : null;
}

/** What the pair really does when it is tried; null before there is one, and where such threads have no fit. */
export function realOutcome(job: Job, truth: Truth): PairOutcome | null {
  const clearance = realClearance(job, truth);
  return clearance === null ? null : { clearance, word: fitWord(clearance, boundsNow(job)) };
}

/** Kept and true side by side, and what the difference does to the fit; null before both diameters are kept. */
export function comparedWithTruth(job: Job, truth: Truth): ComparedWithTruth | null {
  const { bore, spigot } = job;
  if (!bore || !spigot || truth.spigot === null) return null;
  const expected = expectedOf(job, spigot);
  const computed =
    expected.kind === 'expected'
      ? { clearance: expected.clearance, word: fitWord(expected.clearance, boundsNow(job)) }
      : null;
  return {
    bore: { kept: bore.diameter, real: truth.bore },
    spigot: { kept: spigot.diameter, real: truth.spigot },
    depth: { female: depthBeside(job, truth, 'female'), male: depthBeside(job, truth, 'male') },
    computed,
    real: realOutcome(job, truth),
  };
}

/** How far the spigot has to swell to be clearly tight: halfway between seized and running; null without a pair. */
export function swellingToTight(job: Job, truth: Truth): Length | null {
  const real = realOutcome(job, truth);
  const { seizedBelow = 0, runningFrom } = boundsNow(job);
  return real && mm(real.clearance - (seizedBelow + runningFrom) / 2);
}
