// Record: the grain's angle as seen when closed, notes, and the job closed with the last trial's word.
import { trimFor } from '../../plan/alignment.ts';
import { parseAngle } from '../../quantity.ts';
import { adviceOn } from '../advice.ts';
import { badNumber, keep, type Outcome, unchanged } from '../outcome.ts';
import type { Setup } from '../setup.ts';
import { ignoreReadings } from './readings.ts';
import { resetLive, type StageRules, type WithJob } from './rules.ts';

function closeJob(bench: WithJob): Outcome {
  const last = bench.job.trials.at(-1);
  const runs = last?.verdict === 'running' || adviceOn(bench.job)[0]?.kind === 'runs-over-range';
  const how = runs ? 'runs' : last ? 'given-up' : 'untried';
  return keep(bench, { kind: 'job-closed', how });
}

/** The shoulder is on the part with the spigot, the one that isn't bored. */
const shoulderOf = ({ bored }: Setup): Setup['bored'] => (bored === 'lid' ? 'body' : 'lid');

/** Degrees the lid has still to turn to line up are positive; gone past its mark, negative. */
function typed(bench: WithJob, text: string): Outcome {
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
  typed,
};
