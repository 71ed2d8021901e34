// The readings of a stage: typed or received, remembered, held still, and why the newest can't be kept.
import type { How, KeptReading } from '../entry.ts';
import { isStale } from '../line.ts';
import { badNumber, becomes, type Outcome, unchanged } from '../outcome.ts';
import { HEARD_AT_MOST, type Refusal } from '../state.ts';
import { type HeldStill, steadyOf } from '../steady.ts';
import { typedReading } from '../typed-reading.ts';
import type { WithJob } from './rules.ts';

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

/** The value held still at the end of the readings, and how it was measured; or why none can be kept. */
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
