// What a step gives: the next state and the effects it orders. Small functions make them, so that each rule reads as one line.
import type { FeedFound } from './calibration/model.ts';
import type { Entry, Fact, KeptReading } from './entry.ts';
import type { Setup } from './setup.ts';
import type { Bench, Cue, KeepQuestion, Notice, Refusal } from './state.ts';
import type { TeachingOrder } from './teaching.ts';

/** What the bench orders done: the edge does it and answers with an event. */
export type Effect =
  /** Write this fact as an entry of the job (null: a new job), and answer `entry-kept`. */
  | {
      readonly kind: 'keep';
      readonly job: string | null;
      readonly fact: Fact;
      readonly readings: readonly KeptReading[];
    }
  /** Try once more to write these. */
  | { readonly kind: 'retry'; readonly entries: readonly Entry[] }
  | { readonly kind: 'sound'; readonly cue: Cue }
  /** Answer `jobs-listed`. */
  | { readonly kind: 'list-jobs' }
  /** Answer `job-opened` with the whole log. */
  | { readonly kind: 'open-job'; readonly job: string }
  /** Answer `form-opened` with the kit and what was used last. */
  | { readonly kind: 'open-form' }
  /** Answer `lessons-found` with what earlier trials on this setup say. */
  | { readonly kind: 'find-lessons'; readonly setup: Setup }
  /** Write the job sheet and answer `sheet-written`. */
  | { readonly kind: 'write-sheet'; readonly job: string }
  /** Answer `calibration-opened` with the kit. */
  | { readonly kind: 'open-calibration' }
  /** Write a calibrated feed into the kit, and answer `feed-kept`. */
  | { readonly kind: 'keep-feed'; readonly feed: FeedFound }
  | { readonly kind: 'start-virtual' }
  /** Hand this to the virtual bench, and answer `teaching-changed`. */
  | { readonly kind: 'teach'; readonly order: TeachingOrder }
  | { readonly kind: 'quit' };

export interface Outcome {
  readonly bench: Bench;
  readonly effects: readonly Effect[];
}

export const unchanged = (bench: Bench): Outcome => ({ bench, effects: [] });

/** The state with a change, and effects where there are any. */
export const becomes = (bench: Bench, change: Partial<Bench>, ...effects: Effect[]): Outcome => ({
  bench: { ...bench, ...change },
  effects,
});

/** Back to the stage of the job on the bench, or to the welcome. */
export const left = (bench: Bench, change: Partial<Bench> = {}): Outcome =>
  becomes(bench, { mode: { kind: bench.job ? 'stage' : 'welcome' }, ...change });

export const unitSwitched = (bench: Bench): Outcome =>
  becomes(bench, { unit: bench.unit === 'mm' ? 'in' : 'mm' });

/** Sounds a cue, and shows it as a flash. */
export function sounding(bench: Bench, cue: Cue): Outcome {
  const number = (bench.cue?.number ?? 0) + 1;
  return becomes(bench, { cue: { cue, number, at: bench.now } }, { kind: 'sound', cue });
}

/** Not done, and why: nothing else changes. */
export function refuse(bench: Bench, why: Refusal): Outcome {
  return sounding({ ...bench, typed: '', notice: { kind: 'refused', why } }, 'refused');
}

export const badNumber = (bench: Bench, found: string, accepted: string): Outcome =>
  refuse(bench, { kind: 'bad-number', found, accepted });

/** Asks the first time; where the same was asked just before, or nothing is to be asked, the answer is yes. */
export function ask(
  bench: Bench,
  question: KeepQuestion | null,
  whenYes: (bench: Bench) => Outcome,
): Outcome {
  const { notice } = bench;
  if (!question) return whenYes(bench);
  return notice?.kind === 'question' && notice.ask.kind === question.kind
    ? whenYes({ ...bench, notice: null })
    : sounding({ ...bench, notice: { kind: 'question', ask: question } }, 'refused');
}

/** Orders a fact kept; the state follows when the entry comes back. What still waits is tried first, so that the log keeps its order. */
export function keep(
  bench: Bench,
  fact: Fact,
  readings: readonly KeptReading[] = [],
  notice: Notice | null = bench.notice,
): Outcome {
  if (!bench.job) return refuse(bench, { kind: 'no-job' });
  const keep: Effect = { kind: 'keep', job: bench.job.id, fact, readings };
  const waiting: readonly Effect[] =
    bench.unsaved.length > 0 ? [{ kind: 'retry', entries: bench.unsaved }] : [];
  return becomes(bench, { typed: '', notice }, ...waiting, keep);
}

/** One outcome after another: effects in order, the last state. */
export function andThen(first: Outcome, next: (bench: Bench) => Outcome): Outcome {
  const second = next(first.bench);
  return { bench: second.bench, effects: [...first.effects, ...second.effects] };
}
