// A job as its log makes it.
import type { Entry, Fact } from '../../src/core/bench/entry.ts';
import { type Job, jobOf } from '../../src/core/bench/job.ts';
import type { Setup } from '../../src/core/bench/setup.ts';

/** The log of a job: begun with its setup, then what was done on it. */
export const logOf = (setup: Setup, facts: readonly Fact[] = []): readonly Entry[] =>
  [{ kind: 'job-begun', setup } as const, ...facts].map((fact, at) => ({
    ...{ id: `e${at}`, job: '3f9a41c2-0000', at: 1_700_000_000_000 + at, readings: [], fact },
  }));

export function jobWith(setup: Setup, facts: readonly Fact[] = []): Job {
  const job = jobOf(logOf(setup, facts));
  if (!job) throw new Error('a log that begins makes a job');
  return job;
}
