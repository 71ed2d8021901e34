// What a stage must answer: each stage is one file of rules in this shape.
import type { KeptReading } from '../entry.ts';
import type { Job } from '../job.ts';
import type { Outcome } from '../outcome.ts';
import { type Bench, NOTHING_LIVE, type Place } from '../state.ts';

/** A bench that has a job: the only one a stage is asked about. */
export type WithJob = Bench & { readonly job: Job };

export interface StageRules {
  /** Clears captures and held values when the stage begins. */
  readonly entered: (bench: WithJob) => Bench;
  readonly onReading: (bench: WithJob, reading: KeptReading) => Outcome;
  readonly keep: (bench: WithJob) => Outcome;
  readonly again: (bench: WithJob) => Outcome;
  /** A number (or other text) typed and closed with Enter. */
  readonly typed: (bench: WithJob, text: string) => Outcome;
}

/** Live values as a stage finds them when it is entered. */
export const resetLive = <B extends Bench>(bench: B): B => ({ ...bench, ...NOTHING_LIVE });

/** Again starts the measurement over. Where nothing was read yet, it goes on to the next size of the part. */
export function nextPlace(bench: WithJob, begun: boolean, places: readonly Place[]): Place {
  return begun ? bench.place : (places[places.indexOf(bench.place) + 1] ?? 'first');
}

/** Runs a rule where a stage is on the screen of an open job; otherwise answers with `instead`. */
export function atStage(bench: Bench, instead: Outcome, rule: (ready: WithJob) => Outcome): Outcome {
  const { job } = bench;
  return job && bench.mode.kind === 'stage' ? rule({ ...bench, job }) : instead;
}
