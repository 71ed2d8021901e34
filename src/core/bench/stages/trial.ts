// Trial: what the pair did, taken as one of four words; crests relieved is the fifth choice once a trial was made.

import { type Length, mm } from '../../units.ts';
import { clearanceInDoubt } from '../doubt.ts';
import { keep, type Outcome, unchanged } from '../outcome.ts';
import type { Trialled } from '../state.ts';
import { expectedOf } from '../target.ts';
import { badNumber, ignoreReadings, resetLive, type StageRules, type WithJob } from './rules.ts';

const WORDS = [
  'seized',
  'tight',
  'running',
  'loose',
  'crests relieved',
] as const satisfies readonly Trialled[];

/** The choices open now. */
export const choices = (bench: WithJob): readonly Trialled[] =>
  bench.job.trials.length > 0 && bench.job.setup.fit === 'threaded' ? WORDS : WORDS.slice(0, 4);

function again(bench: WithJob): Outcome {
  const open = choices(bench);
  const at = open.indexOf(bench.trialled);
  return unchanged({ ...bench, trialled: open[(at + 1) % open.length] ?? 'running' });
}

function standardIn(job: WithJob['job']): Length | null {
  const doubt = clearanceInDoubt(job, 'measured');
  return doubt ? mm(doubt.standard) : null;
}

function take(bench: WithJob): Outcome {
  const { trialled, job } = bench;
  if (trialled === 'crests relieved') return keep(bench, { kind: 'crests-relieved', part: 'male' });
  const expected = job.spigot ? expectedOf(job, job.spigot.diameter) : null;
  const known = expected?.kind === 'expected';
  const clearance = known ? expected.computed : null;
  const standard = known ? standardIn(job) : null;
  return keep(bench, { kind: 'trial-made', verdict: trialled, clearance, standard });
}

function typed(bench: WithJob, text: string): Outcome {
  const chosen = choices(bench)[Number(text) - 1];
  if (!/^[1-5]$/.test(text) || !chosen) return badNumber(bench, text, `1 to ${choices(bench).length}`);
  return unchanged({ ...bench, trialled: chosen, typed: '' });
}

export const trialRules: StageRules = {
  entered: (bench) => ({ ...resetLive(bench), trialled: 'running' }),
  onReading: ignoreReadings,
  take,
  again,
  typed,
};
