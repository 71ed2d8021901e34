// Teaching at the virtual bench: how fast its time runs, which mishaps were ordered, and the true sizes beside the kept ones.
import { type Fit, type FitWord, fitOf, fitWord } from '../thread/fit.ts';
import { type FitRefusal, fitRefusalText } from '../thread/pair.ts';
import { type Length, mm } from '../units.ts';
import type { Stage } from './entry.ts';
import type { Job, Spigot } from './job.ts';
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
  readonly kind: 'outcome';
  readonly clearance: Length;
  readonly word: FitWord;
}

/** Such threads have no fit, or nobody measured how deep they are. */
interface NoOutcome {
  readonly kind: 'no-fit';
  readonly why: string;
}

interface Beside {
  readonly kept: Length;
  readonly real: Length;
}

interface ComparedWithTruth {
  readonly bore: Beside;
  readonly spigot: Beside;
  /** Only grooves that were cut on the virtual bench and kept. */
  readonly depth: { readonly [part in Part]: Beside | null };
  /** As the bench worked it out from what was kept, and as it is. */
  readonly computed: PairOutcome | NoOutcome;
  readonly real: PairOutcome | NoOutcome;
}

const depthBeside = ({ threads }: Job, { depth }: Truth, part: Part): Beside | null => {
  const { cut } = threads[part];
  return cut && depth[part] > 0 ? { kept: cut.depth, real: depth[part] } : null;
};

/** The clearance that the true sizes give by geometry alone; a groove that was never cut counts as the job has it. */
function realFit(
  job: Job,
  { bore, depth }: Truth,
  spigot: Length,
): Pick<Fit, 'kind' | 'clearance'> | FitRefusal {
  if (job.setup.fit === 'plain') return { kind: 'fit', clearance: mm(bore - spigot) };
  const thread = (part: Part) => {
    const groove = { kind: 'thread-cut', part, detents: null, depth: depth[part], proven: false } as const;
    return depth[part] > 0 ? { ...job.threads[part], cut: groove } : job.threads[part];
  };
  const asCut: Job = { ...job, threads: { female: thread('female'), male: thread('male') } };
  return fitOf(pairOf(asCut, bore), bore, spigot);
}

const outcomeOf = (job: Job, clearance: Length): PairOutcome => ({
  kind: 'outcome',
  clearance,
  word: fitWord(clearance, boundsNow(job)),
});

function realOutcomeWith(job: Job, truth: Truth, spigot: Length): PairOutcome | NoOutcome {
  const fit = realFit(job, truth, spigot);
  return fit.kind === 'fit' ? outcomeOf(job, fit.clearance) : { kind: 'no-fit', why: fitRefusalText(fit) };
}

/** What the pair really does when it is tried; null before there is one, and where such threads have no fit. */
export function realOutcome(job: Job, truth: Truth): PairOutcome | null {
  const real = truth.spigot && realOutcomeWith(job, truth, truth.spigot);
  return real?.kind === 'outcome' ? real : null;
}

function computedOutcome(job: Job, spigot: Spigot): PairOutcome | NoOutcome {
  const expected = expectedOf(job, spigot);
  if (expected.kind === 'expected') return outcomeOf(job, expected.clearance);
  const why = expected.kind === 'no-fit' ? expected.why : 'nobody measured how deep its threads are';
  return { kind: 'no-fit', why };
}

/** Kept and true side by side, and what the difference does to the fit; null before both diameters are kept. */
export function comparedWithTruth(job: Job, truth: Truth): ComparedWithTruth | null {
  const { bore, spigot } = job;
  if (!bore || !spigot || truth.spigot === null) return null;
  return {
    bore: { kept: bore.diameter, real: truth.bore },
    spigot: { kept: spigot.diameter, real: truth.spigot },
    depth: { female: depthBeside(job, truth, 'female'), male: depthBeside(job, truth, 'male') },
    computed: computedOutcome(job, spigot),
    real: realOutcomeWith(job, truth, truth.spigot),
  };
}

/** How far the spigot has to swell to be clearly tight: halfway between seized and running; null without a pair. */
export function swellingToTight(job: Job, truth: Truth): Length | null {
  const real = realOutcome(job, truth);
  const { seizedBelow = 0, runningFrom } = boundsNow(job);
  return real && mm(real.clearance - (seizedBelow + runningFrom) / 2);
}
