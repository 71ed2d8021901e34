// What a sheet draws: the job as measured, and where nothing is measured yet, as planned or aimed at, with words that say which.
import type { Job } from '../core/bench/job.ts';
import { aimOf, expectedOf } from '../core/bench/target.ts';

export interface Subject {
  /** With a bore and a spigot in it. */
  readonly job: Job & { readonly bore: object; readonly spigot: object };
  readonly bore: 'bore' | 'bore planned';
  readonly spigot: 'spigot' | 'spigot target';
}

export type NoSubject = { readonly why: string };

/** The planned bore stands in for one that is not measured. */
function bored(job: Job): Job {
  const { plannedBore } = job.setup;
  if (job.bore || plannedBore === undefined) return job;
  const unknown = { standard: null, degreesOfFreedom: null, tops: 0, agreeing: 0, spread: null } as const;
  return { ...job, bore: { kind: 'bore-taken', diameter: plannedBore, how: 'typed', ...unknown } };
}

/** The spigot aimed at stands in for one that is not turned. */
function turned(job: Job): Job {
  const aim = aimOf(job);
  if (job.spigot || aim.kind !== 'aim') return job;
  const expected = expectedOf(job, aim.target);
  if (expected.kind !== 'expected') return job;
  const { clearance, word } = expected;
  return {
    ...job,
    spigot: { kind: 'spigot-taken', diameter: aim.target, how: 'typed', fit: word, clearance },
  };
}

function reason(job: Job): string {
  const aim = aimOf(job);
  return aim.kind === 'no-fit' ? aim.why : 'no bore is taken or planned yet';
}

/** The subject, or why there is nothing to draw. */
export function subjectOf(job: Job): Subject | NoSubject {
  const whole = turned(bored(job));
  const { bore, spigot } = whole;
  const refused = bore && spigot ? expectedOf(whole, spigot.diameter) : null;
  if (!bore || !spigot || refused?.kind === 'no-fit')
    return { why: refused?.kind === 'no-fit' ? refused.why : reason(whole) };
  return {
    job: { ...whole, bore, spigot },
    bore: job.bore ? 'bore' : 'bore planned',
    spigot: job.spigot ? 'spigot' : 'spigot target',
  };
}
