// What a stage must answer: each is one file of rules behind this shape.
import type { How, KeptReading } from '../entry.ts';
import type { Job } from '../job.ts';
import { isStale } from '../line.ts';
import { becomes, type Outcome, refuse, unchanged } from '../outcome.ts';
import { type Bench, HEARD_AT_MOST, NOTHING_LIVE, type Place, type Refusal } from '../state.ts';
import { type HeldStill, steadyOf } from '../steady.ts';
import { typedReading } from '../typed-reading.ts';

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

export const rememberReading = (bench: WithJob, reading: KeptReading, at = bench.readings.length): Outcome =>
  becomes(bench, {
    readings: bench.readings.toSpliced(at, 0, reading).slice(-HEARD_AT_MOST),
    lifted: reading.raw === '' ? null : bench.lifted,
  });

/** A length typed at a stage, as the reading it is. */
export function withTyped(bench: WithJob, text: string, then: (reading: KeptReading) => Outcome): Outcome {
  const parsed = typedReading(bench, text);
  return parsed.ok ? then(parsed.value) : badNumber(bench, parsed.found, parsed.accepted);
}

/** The value held still at the end of the readings, and how it was measured; or why there is none to keep. */
export function heldStill(bench: WithJob): (HeldStill & { readonly how: How }) | Refusal {
  const why = whyNotKept(bench);
  if (why) return why;
  const held = steadyOf(bench.readings);
  return held ? { ...held, how: held.readings[0]?.raw === '' ? 'typed' : 'read' } : { kind: 'moving' };
}

/** What is said of the newest reading: a typed one needs no jaws held still. */
export type Held = 'typed' | 'still' | 'moving';
export function howHeld(bench: WithJob): Held {
  const held = heldStill(bench);
  if ('kind' in held) return 'moving';
  return held.how === 'typed' ? 'typed' : 'still';
}

/** Why the last reading can't be kept; undefined where it can. A typed value does not age. */
export function whyNotKept(bench: WithJob): Refusal | undefined {
  const last = bench.readings.at(-1);
  if (!last) return { kind: 'no-reading' };
  return last.raw !== '' && isStale(bench) ? { kind: 'stale-reading' } : undefined;
}

/** For stages that do not look at the caliper. */
export const ignoreReadings = (bench: WithJob): Outcome => unchanged(bench);

export const badNumber = (bench: Bench, found: string, accepted: string): Outcome =>
  refuse(bench, { kind: 'bad-number', found, accepted });

/** Runs a rule where a stage is on the screen of an open job; otherwise answers with `instead`. */
export function atStage(bench: Bench, instead: Outcome, rule: (ready: WithJob) => Outcome): Outcome {
  const { job } = bench;
  return job && bench.mode.kind === 'stage' ? rule({ ...bench, job }) : instead;
}
