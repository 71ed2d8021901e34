// A job as its entries make it: folded in order, without the undone ones. No clock, no chance: the same log gives the same job.
import type { MeasuredStrokes } from '../thread/depth.ts';
import { moveTo, startDepth, type Tracker, type VoidReason, voidDepth } from '../thread/depth.ts';
import type { FitWord } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';
import {
  type Entry,
  type Fact,
  type FactOf,
  type FeedMark,
  type How,
  isAutomatic,
  type Stage,
} from './entry.ts';
import type { Part, Setup } from './setup.ts';

export type Chased = FactOf<'thread-chased'>;
export type Bore = FactOf<'bore-taken'>;
export type Spigot = FactOf<'spigot-taken'>;

/** One part's thread as cut so far. */
export interface Thread {
  readonly touchOff: FeedMark | null;
  /** The feed's position since the touch-off; null before one, and for an unknown feed. */
  readonly tracker: Tracker | null;
  readonly hardened: boolean;
  readonly cut: FactOf<'thread-cut'> | null;
  /** Detents and depth of earlier cuts since the job began, for the record of reworks. */
  readonly cuts: number;
  /** Chased by hand: strokes counted so far, and the thread as it was kept last. */
  readonly strokes: number;
  readonly chased: Chased | null;
  /** The last depth that a flat showed, while every stroke up to it was counted. */
  readonly measured: MeasuredStrokes | null;
  readonly isCounted: boolean;
  /** The strokes after which the part was last measured over its crests; null before. */
  readonly crestsAt: number | null;
}

export interface TrialMade {
  readonly verdict: FitWord;
  readonly clearance: Length | null;
  readonly standard: Length | null;
  /** Crests sanded after this trial. */
  readonly relieved: boolean;
  /** A thread was cut deeper after this trial: what it said does not hold any more. */
  readonly reworked: boolean;
}

export interface Measured {
  readonly diameter: Length;
  readonly how: How;
}

export interface Job {
  readonly id: string;
  readonly begun: number;
  readonly touched: number;
  readonly name: string;
  readonly setup: Setup;
  readonly stage: Stage;
  /** `at` is the bench's clock when it was taken: a check holds for a day. */
  readonly zero: (FactOf<'zero-taken'> & { readonly at: number }) | null;
  readonly ring: FactOf<'ring-taken'> | null;
  readonly mouth: Measured | null;
  readonly depth: Measured | null;
  readonly bore: Bore | null;
  /** `turned` is what it measured before its crests were cut; `diameter` is what it measures now. */
  readonly spigot: (Spigot & { readonly turned?: Length }) | null;
  readonly threads: { readonly [part in Part]: Thread };
  readonly trials: readonly TrialMade[];
  readonly grain: FactOf<'grain-seen'> | null;
  readonly notes: readonly string[];
  readonly closed: { readonly how: 'runs' | 'given-up' | 'untried'; readonly at: number } | null;
  readonly removed: boolean;
}

/** One job in the list to resume from. */
export interface JobLine {
  readonly id: string;
  readonly name: string;
  readonly touched: number;
  readonly stage: Stage;
  readonly closed: boolean;
}

const uncut: Thread = {
  touchOff: null,
  tracker: null,
  hardened: false,
  cut: null,
  cuts: 0,
  strokes: 0,
  chased: null,
  measured: null,
  isCounted: true,
  crestsAt: null,
};

function begin(entry: Entry, setup: Setup): Job {
  return {
    id: entry.job,
    begun: entry.at,
    touched: entry.at,
    name: setup.name,
    setup,
    stage: 'bore size',
    zero: null,
    ring: null,
    mouth: null,
    depth: null,
    bore: null,
    spigot: null,
    threads: { female: uncut, male: uncut },
    trials: [],
    grain: null,
    notes: [],
    closed: null,
    removed: false,
  };
}

const withThread = (job: Job, part: Part, change: Partial<Thread>): Job => ({
  ...job,
  threads: { ...job.threads, [part]: { ...job.threads[part], ...change } },
});

function counted(job: Job, fact: FactOf<'feed-counted'>): Job {
  const thread = job.threads[fact.part];
  if (thread.tracker === null) return job;
  return withThread(job, fact.part, { tracker: moveTo(thread.tracker, fact.mark.total) });
}

/** One slide serves both parts: touching off one sets the other's count aside. */
function touchedOff(job: Job, { part, mark }: FactOf<'touched-off'>): Job {
  const { feed } = job.setup;
  const tracker = feed ? startDepth(feed, mark.total) : null;
  const other = part === 'female' ? 'male' : 'female';
  return withThread(voided(job, other, 'set-aside'), part, { touchOff: mark, tracker });
}

function voided(job: Job, part: Part, why: VoidReason): Job {
  const { tracker } = job.threads[part];
  return tracker ? withThread(job, part, { tracker: voidDepth(tracker, why) }) : job;
}

function lastTrial(job: Job, change: Partial<TrialMade>): Job {
  const last = job.trials.at(-1);
  return last ? { ...job, trials: [...job.trials.slice(0, -1), { ...last, ...change }] } : job;
}

const overCrests = (job: Job, part: Part): Job =>
  withThread(job, part, { crestsAt: job.threads[part].strokes });

function crestsMeasured(job: Job, { diameter }: FactOf<'crests-measured'>): Job {
  const { spigot } = job;
  if (!spigot) return job;
  const turned = spigot.turned ?? spigot.diameter;
  // Its taper and ovality stay as they were turned.
  const [across, end] = [spigot.across, spigot.end].map(
    (size) => size && mm(size + diameter - spigot.diameter),
  );
  const sizes = { diameter, ...(across && { across }), ...(end && { end }) };
  return overCrests({ ...job, spigot: { ...spigot, turned, ...sizes } }, 'male');
}

/** Kept by trial with no stroke counted since: it was chased without counting, so the strokes say nothing any more. */
function chased(job: Job, fact: Chased): Job {
  const { part, how, strokes, depth, within } = fact;
  const before = job.threads[part];
  const uncounted = how === 'trial' && strokes <= (before.chased?.strokes ?? 0);
  const isCounted = before.isCounted && !uncounted;
  const measured =
    how === 'flat' && depth !== null && within !== null ? { strokes, depth, within } : before.measured;
  return withThread(uncounted ? lastTrial(job, { reworked: true }) : job, part, {
    chased: fact,
    isCounted,
    measured: isCounted ? measured : null,
  });
}

/** What one fact does to a job; the facts that only the log needs change nothing. */
function apply(job: Job, fact: Fact, at: number): Job {
  switch (fact.kind) {
    case 'job-begun':
    case 'capture-doubted':
    case 'target-set':
    case 'undone':
      return job;
    case 'setup-changed':
      return { ...job, setup: fact.setup, name: fact.setup.name };
    case 'stage-entered':
      return { ...job, stage: fact.stage };
    case 'zero-taken':
      return { ...job, zero: { ...fact, at } };
    case 'ring-taken':
      return { ...job, ring: fact };
    case 'hollow-measured':
      return { ...job, [fact.where]: { diameter: fact.diameter, how: fact.how } };
    case 'bore-taken':
      return overCrests({ ...job, bore: fact }, 'female');
    case 'spigot-taken':
      return overCrests({ ...job, spigot: fact }, 'male');
    case 'touched-off':
      return touchedOff(job, fact);
    case 'feed-counted':
      return counted(job, fact);
    case 'depth-voided':
      return voided(job, fact.part, fact.why);
    case 'thread-cut':
      return withThread(lastTrial(job, { reworked: true }), fact.part, {
        cut: fact,
        cuts: job.threads[fact.part].cuts + 1,
      });
    case 'stroke':
      return withThread(lastTrial(job, { reworked: true }), fact.part, {
        strokes: job.threads[fact.part].strokes + 1,
      });
    case 'thread-chased':
      return chased(job, fact);
    case 'crests-measured':
      return crestsMeasured(job, fact);
    case 'hardened':
      return withThread(job, fact.part, { hardened: true });
    case 'trial-made': {
      const { verdict, clearance, standard } = fact;
      return {
        ...job,
        trials: [...job.trials, { verdict, clearance, standard, relieved: false, reworked: false }],
      };
    }
    case 'crests-relieved':
      return lastTrial(job, { relieved: true });
    case 'grain-seen':
      return { ...job, grain: fact };
    case 'note-added':
      return { ...job, notes: [...job.notes, fact.text] };
    case 'job-renamed':
      return { ...job, name: fact.name };
    case 'job-closed':
      return { ...job, closed: { how: fact.how, at } };
    case 'job-reopened':
      return { ...job, closed: null };
    case 'job-removed':
      return { ...job, removed: true };
    case 'job-restored':
      return { ...job, removed: false };
    default:
      return fact satisfies never;
  }
}

const undoneIn = (log: readonly Entry[]): ReadonlySet<string> =>
  new Set(log.flatMap(({ fact }) => (fact.kind === 'undone' ? [fact.entry] : [])));

/** The job that a log makes; undefined for an empty log, or one whose beginning is missing. */
export function jobOf(log: readonly Entry[]): Job | undefined {
  const undone = undoneIn(log);
  let job: Job | undefined;
  for (const entry of log) {
    if (undone.has(entry.id)) continue;
    job = withEntry(job, entry);
  }
  return job;
}

/** A job with one more entry. An `undone` entry needs the whole log: see `jobOf`. */
export function withEntry(job: Job | undefined, entry: Entry): Job | undefined {
  if (entry.fact.kind === 'job-begun') return job ?? begin(entry, entry.fact.setup);
  return job && { ...apply(job, entry.fact, entry.at), touched: entry.at };
}

/** The last of these entries that still holds. */
export function lastStanding(log: readonly Entry[], isOfThese: (fact: Fact) => boolean): Entry | undefined {
  const undone = undoneIn(log);
  return log.findLast(({ id, fact }) => isOfThese(fact) && !undone.has(id));
}

/** The last entry that the turner decided on; the beginning of a job is not undone. */
export const lastUndoable = (log: readonly Entry[]): Entry | undefined =>
  lastStanding(log, (fact) => !isAutomatic(fact) && fact.kind !== 'job-begun');
