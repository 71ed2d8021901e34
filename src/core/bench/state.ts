// Everything the bench knows at one moment: the job folded from its log, and what is live and never saved.

import type { Capture } from '../measure/capture.ts';
import type { JawLand } from '../measure/corrections.ts';
import type { Reading } from '../measure/reading.ts';
import type { VoidReason } from '../thread/depth.ts';
import type { FitWord } from '../thread/fit.ts';
import type { Length, LengthUnit, Millis } from '../units.ts';
import type { Calibrating, CalibrationTrouble } from './calibration/model.ts';
import type { Entry, KeptReading } from './entry.ts';
import type { BoardFacts } from './event.ts';
import type { Job, JobLine } from './job.ts';
import type { NewJobForm } from './new-job-form.ts';
import type { Measuring, Part } from './setup.ts';
import type { Zone } from './target.ts';
import type { Mishap, Teaching } from './teaching.ts';

/** How the line is, for the turner to see. */
export interface LineHealth {
  readonly port: string | null;
  readonly open: boolean;
  /** Why it is not open, in words safe to show. */
  readonly trouble: string | null;
  readonly silent: boolean;
  /** Null before anything spoke; false for adapters that print bare numbers. */
  readonly checked: boolean | null;
  readonly board: BoardFacts | null;
  readonly versionRefused: { readonly theirs: string; readonly ours: string } | null;
  readonly lost: number;
  readonly damaged: number;
  readonly unknown: number;
  readonly restarts: number;
  /** Readings heard in the last second and when they came, for the rate. */
  readonly recent: readonly Millis[];
}

export interface Live {
  readonly reading: Reading;
  readonly raw: string;
  readonly heardAt: Millis;
}

/** Sounds, and the same as a flash. */
export type Cue = 'agreed' | 'near' | 'at' | 'past' | 'link-lost' | 'kept' | 'refused';

/** Faults of the board that the turner can mend, by the codes of protocol.md. */
export const BOARD_FAULTS = ['caliper-noise', 'caliper-data', 'feed-windows'] as const;

/** One sentence, shown until the next action: what was done, or why it wasn't. */
export type Notice =
  | { readonly kind: 'kept'; readonly what: string }
  | { readonly kind: 'depth-voided'; readonly part: Part }
  | { readonly kind: 'refused'; readonly why: Refusal }
  /** Asked before something doubtful is kept: Enter says yes, anything else no. */
  | { readonly kind: 'question'; readonly ask: KeepQuestion }
  | { readonly kind: 'undone'; readonly what: string }
  | { readonly kind: 'feed-kept'; readonly name: string }
  /** Made to go wrong, by key. */
  | { readonly kind: 'mishap'; readonly what: Mishap }
  /** Another bench works on this job: what it kept is shown now. */
  | { readonly kind: 'other-bench' }
  | { readonly kind: 'board-fault'; readonly fault: (typeof BOARD_FAULTS)[number] }
  /** Not done, and not tried again. */
  | { readonly kind: 'not-done'; readonly why: string }
  | { readonly kind: 'not-saved'; readonly why: string };

export type KeepQuestion =
  | { readonly kind: 'odd-size'; readonly found: Length; readonly expected: Length | null }
  /** Held before anything above the target and the bore was seen: it may be the bore still. */
  | { readonly kind: 'is-spigot'; readonly found: Length; readonly target: Length }
  /** Further from the size that the part is known by than ovality or taper makes it. */
  | { readonly kind: 'odd-shape'; readonly found: Length; readonly known: Length }
  | { readonly kind: 'off-size'; readonly over: Length; readonly word: FitWord | null };

/** Why an action was not done; words.ts says each in a sentence with what to do. */
export type Refusal =
  | { readonly kind: 'no-reading' }
  | { readonly kind: 'stale-reading' }
  | { readonly kind: 'moving' }
  | { readonly kind: 'another-board'; readonly board: string }
  | { readonly kind: 'not-agreed'; readonly reason: string }
  | { readonly kind: 'readings-disagree'; readonly spread: Length; readonly allowed: Length }
  | { readonly kind: 'closed-jaws' }
  | { readonly kind: 'zero-wanders'; readonly spread: number; readonly allowed: number }
  | { readonly kind: 'jaws-open'; readonly shown: number; readonly most: number }
  | {
      readonly kind: 'missing';
      readonly what:
        | 'bore'
        | 'spigot'
        | 'touch-off'
        | 'feed'
        | 'count'
        | 'trial'
        | 'zero'
        | 'depth'
        | 'ring'
        | 'rocking';
    }
  | { readonly kind: 'depth-void'; readonly why: VoidReason }
  | { readonly kind: 'bad-number'; readonly found: string; readonly accepted: string }
  | { readonly kind: 'no-fit'; readonly why: string }
  | Extract<JawLand, { kind: 'no-land' }>
  /** Over its crests a spigot measures what it was turned to: nothing new, and nothing of its depth. */
  | { readonly kind: 'crests-whole'; readonly spigot: Length }
  | { readonly kind: 'board-counts' }
  | { readonly kind: 'nothing-to-undo' }
  | { readonly kind: 'no-mishap' }
  | { readonly kind: 'closed' }
  | { readonly kind: 'calibration'; readonly trouble: CalibrationTrouble }
  | { readonly kind: 'no-job' };

/** A part is known by its first size; square to it shows whether it is oval, its end whether it is tapered. */
export type Place = 'first' | 'across' | 'end';

export type Trialled = FitWord | 'crests relieved';

/** One rocked ring, and what it really is. */
export interface PracticeResult {
  readonly measured: Length;
  readonly real: Length;
  readonly spread: Length;
  readonly strokes: number;
}

/** Practice in rocking. While no capture runs, the last result is shown. */
export interface Practice {
  /** What is marked on the turner's own ring, once typed. */
  readonly ring: Length | null;
  readonly results: readonly PracticeResult[];
  readonly measuring: Measuring | undefined;
}

/** What the bench shows beside, or instead of, a stage. */
type Mode =
  | { readonly kind: 'welcome' }
  | { readonly kind: 'stage' }
  | { readonly kind: 'form'; readonly form: NewJobForm }
  | { readonly kind: 'jobs'; readonly jobs: readonly JobLine[]; readonly chosen: number }
  | { readonly kind: 'note'; readonly text: string }
  | { readonly kind: 'calibrate'; readonly calibrating: Calibrating }
  | { readonly kind: 'practice'; readonly practice: Practice };

/** What is live at a stage, as it is when the stage is entered. */
export const NOTHING_LIVE: Pick<
  Bench,
  'capture' | 'trail' | 'readings' | 'lifted' | 'typed' | 'place' | 'ring'
> = { capture: null, trail: null, readings: [], lifted: null, typed: '', place: 'first', ring: null };

export interface Bench {
  readonly mode: Mode;
  readonly log: readonly Entry[];
  readonly job: Job | null;
  readonly line: LineHealth;
  readonly live: Live | null;
  readonly feed: {
    readonly total: number;
    readonly board: string | null;
    readonly at: Millis;
    readonly heardAt: Millis;
  } | null;
  /** The running capture of a stage that measures by rocking or by holding still. */
  readonly capture: Capture | null;
  /** The raw readings of the running capture, newest first as a chain, so that adding one costs the same at any length. */
  readonly trail: Trail | null;
  /** Readings of a stage that wants a value held still: the newest last, at most `HEARD_AT_MOST`. */
  readonly readings: readonly KeptReading[];
  /** The zone of the spigot's last held diameter. */
  readonly zone: Zone | null;
  readonly typed: string;
  /** A typed reading that is back in the line to be corrected, and its place among the others. */
  readonly lifted: { readonly reading: KeptReading; readonly at: number } | null;
  /** The word chosen for the next trial; null until one is chosen. */
  readonly trialled: Trialled | null;
  /** A diameter above the target and the bore was held, or any was typed, since the spigot stage was entered. */
  readonly aboveSeen: boolean;
  /** Which size of the stage's part is measured; only the first until that was kept. */
  readonly place: Place;
  /** Ring of known size being measured at the zero stage, in mm. */
  readonly ring: number | null;
  readonly unit: LengthUnit;
  readonly help: boolean;
  readonly notice: Notice | null;
  /** The last cue, numbered so that the same cue twice is seen twice. */
  readonly cue: { readonly cue: Cue; readonly number: number; readonly at: Millis } | null;
  /** Entries that could not be written; tried again until they are. */
  readonly unsaved: readonly Entry[];
  readonly now: Millis;
  /** Milliseconds since 1970, for judging how long a board must have been running. */
  readonly wall: number;
  /** False from opening a job until its feed count was seen to come from a board that never restarted meanwhile. */
  readonly feedSeen: boolean;
  /** Only on the virtual bench. */
  readonly teaching: Teaching | null;
  /** The board restarted since the zero was checked. */
  readonly zeroDoubted: boolean;
}

/** Only time passed: a tick, or a board that repeats its feed count. */
export const onlyTimePassed = (before: Bench, after: Bench): boolean =>
  before.feed?.total === after.feed?.total &&
  (Object.keys(after) as (keyof Bench)[]).every((key) => TIMES.has(key) || before[key] === after[key]);
const TIMES: ReadonlySet<keyof Bench> = new Set(['now', 'wall', 'feed']);

export interface Trail {
  readonly reading: KeptReading;
  readonly before: Trail | null;
  readonly count: number;
}

/** A reading older than this is shown as stale (protocol.md, Silence). */
export const STALE_AFTER = 2000;
/** Readings that a stage looks back on to tell whether the jaws are held still. */
export const HEARD_AT_MOST = 40;
/** A capture takes no more readings than this, some twenty minutes at eight a second; then it starts over unless it is steady. */
export const TRAIL_AT_MOST = 10_000;
