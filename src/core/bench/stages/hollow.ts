// Hollow: what remains to the planned bore, and the taper from a reading at the mouth and one at depth.
import { corrected } from '../correct-reading.ts';
import { kept, type Outcome, refused, unchanged } from '../outcome.ts';
import { settledOf } from '../steady.ts';
import { typedReading } from '../typed-reading.ts';
import { badNumber, fresh, listening, type StageRules, untakeable, type WithJob } from './rules.ts';

/** Mouth first, then depth; a third reading is the mouth again. */
export const nextPlace = (job: WithJob['job']): 'mouth' | 'depth' =>
  job.mouth !== null && job.depth === null ? 'depth' : 'mouth';

function take(bench: WithJob): Outcome {
  const why = untakeable(bench);
  if (why) return refused(bench, why);
  const settled = settledOf(bench.heard);
  if (!settled) return refused(bench, { kind: 'moving' });
  const how = settled.readings[0]?.raw === '' ? 'typed' : 'read';
  const diameter = corrected(bench.job, settled.value, 'bore');
  const where = nextPlace(bench.job);
  return kept({ ...bench, heard: [] }, { kind: 'hollow-measured', where, diameter, how }, settled.readings);
}

function typed(bench: WithJob, text: string): Outcome {
  const parsed = typedReading(bench, text);
  if (!parsed.ok) return badNumber(bench, parsed.found, parsed.accepted);
  return listening({ ...bench, typed: '' }, parsed.value);
}

export const hollow: StageRules = {
  entered: fresh,
  heard: listening,
  take,
  again: (bench) => unchanged(fresh(bench)),
  typed,
};
