// Trial and record: what the pair did, as one of four words, with crests relieved as a fifth after the first trial; then the grain's
// angle with the lid closed, and the job closed with the last trial's word.
import { trimFor } from '../../plan/alignment.ts';
import { parseAngle } from '../../quantity.ts';
import { type Length, mm } from '../../units.ts';
import { adviceOn } from '../advice.ts';
import { clearanceInDoubt } from '../doubt.ts';
import { andThen, badNumber, keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import type { Setup } from '../setup.ts';
import type { Trialled } from '../state.ts';
import { expectedOf } from '../target.ts';
import { ignoreReadings } from './readings.ts';
import { resetLive, type StageRules, type WithJob } from './rules.ts';

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

/** The word to show: the one chosen, else what was recorded of this pair as it is; null while nothing is known. */
export function trialWord({ job, trialled }: Pick<WithJob, 'job' | 'trialled'>): Trialled | null {
  if (trialled !== null) return trialled;
  const last = job.trials.at(-1);
  if (!last || last.reworked) return null;
  return last.relieved ? 'crests relieved' : last.verdict;
}

/** The next word, for hands with buttons alone: what is hoped for first. */
function again(bench: WithJob): Outcome {
  const open = choices(bench);
  const at = open.indexOf(trialWord(bench) ?? 'tight');
  return unchanged({ ...bench, trialled: open[(at + 1) % open.length] ?? 'running' });
}

function standardIn(job: WithJob['job']): Length | null {
  const doubt = clearanceInDoubt(job, 'measured');
  return doubt ? mm(doubt.standard) : null;
}

function made(bench: WithJob, word: Trialled): Outcome {
  const { job } = bench;
  const settled = { ...bench, trialled: null };
  if (word === 'crests relieved') return keep(settled, { kind: 'crests-relieved', part: 'male' });
  const expected = job.spigot ? expectedOf(job, job.spigot) : null;
  const known = expected?.kind === 'expected';
  const clearance = known ? expected.computed : null;
  const standard = known ? standardIn(job) : null;
  const fact = { kind: 'trial-made', verdict: word, clearance, standard } as const;
  const last = bench.log.at(-1);
  // Nothing was done since the last word: this one corrects it.
  return last?.fact.kind === 'trial-made'
    ? andThen(keep(settled, { kind: 'undone', entry: last.id }), (at) => keep(at, fact))
    : keep(settled, fact);
}

/** A word that was recorded already is not recorded twice. */
function keepTrial(bench: WithJob): Outcome {
  if (bench.trialled !== null) return made(bench, bench.trialled);
  return trialWord(bench) === null ? refuse(bench, { kind: 'missing', what: 'trial' }) : unchanged(bench);
}

function typed(bench: WithJob, text: string): Outcome {
  const chosen = choices(bench)[Number(text) - 1];
  return /^[1-5]$/.test(text) && chosen
    ? made(bench, chosen)
    : badNumber(bench, text, `1 to ${choices(bench).length}`);
}

export const trialRules: StageRules = {
  entered: (bench) => ({ ...resetLive(bench), trialled: null }),
  onReading: ignoreReadings,
  keep: keepTrial,
  again,
  typed,
};

function closeJob(bench: WithJob): Outcome {
  const last = bench.job.trials.at(-1);
  const runs = last?.verdict === 'running' || adviceOn(bench.job)[0]?.kind === 'runs-over-range';
  const how = runs ? 'runs' : last ? 'given-up' : 'untried';
  return keep(bench, { kind: 'job-closed', how });
}

/** The shoulder is on the part with the spigot, the one that isn't bored. */
const shoulderOf = ({ bored }: Setup): Setup['bored'] => (bored === 'lid' ? 'body' : 'lid');

/** Degrees the lid has still to turn to line up are positive; gone past its mark, negative. */
function grainTyped(bench: WithJob, text: string): Outcome {
  const angle = parseAngle(text);
  if (!angle.ok) return badNumber(bench, angle.found, angle.accepted);
  const { setup } = bench.job;
  const trim = trimFor({ pitch: setup.pitch.length, starts: setup.starts, toGo: angle.value });
  if (trim.kind !== 'trim') return badNumber(bench, text, 'an angle within one turn either way');
  return keep(bench, { kind: 'grain-seen', angle: angle.value, trim: trim.amount, part: shoulderOf(setup) });
}

export const recordRules: StageRules = {
  entered: resetLive,
  onReading: ignoreReadings,
  keep: closeJob,
  again: (bench) => unchanged(bench),
  typed: grainTyped,
};
