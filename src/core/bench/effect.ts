// What the bench orders done: the edge does it and answers with an event.
import type { FeedFound } from './calibration/model.ts';
import type { Entry, Fact, KeptReading } from './entry.ts';
import type { Setup } from './setup.ts';
import type { Cue } from './state.ts';
import type { TeachingOrder } from './teaching.ts';

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
