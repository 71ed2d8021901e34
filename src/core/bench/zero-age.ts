// Whether the zero check still holds: never made, made and fresh, made too long ago, or before the board last restarted.
import type { Job } from './job.ts';
import type { Bench } from './state.ts';

export type ZeroAge = 'unchecked' | 'fresh' | 'old' | 'restarted';

/** A zero check holds for a day: jaws gather dust, batteries go; our own choice. */
const HOLDS_MS = 24 * 60 * 60 * 1000;

export function zeroAge(bench: Bench, job: Job): ZeroAge {
  if (!job.zero) return 'unchecked';
  if (bench.zeroDoubted) return 'restarted';
  return Math.abs(bench.wall - job.zero.at) > HOLDS_MS ? 'old' : 'fresh';
}
