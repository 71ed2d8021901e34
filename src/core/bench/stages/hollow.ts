// Hollow: what remains to the planned bore, and the taper from a reading at the mouth and one at depth.
import { type Taper, taperOf } from '../../thread/taper-and-oval.ts';
import { correctReading } from '../correct-reading.ts';
import type { Job } from '../job.ts';
import { boreAlong } from '../out-of-true.ts';
import { keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import { steadyOf } from '../steady.ts';
import { typedReading } from '../typed-reading.ts';
import { badNumber, rememberReading, resetLive, type StageRules, type WithJob, whyNotKept } from './rules.ts';

/** Mouth first, then depth; a third reading is the mouth again. */
export const nextHeight = (job: WithJob['job']): 'mouth' | 'depth' =>
  job.mouth !== null && job.depth === null ? 'depth' : 'mouth';

/** What the screen says of the hollow. */
export type HollowState =
  | { readonly kind: 'unread' | 'wider' | 'still' | 'moving' | 'parallel' }
  | { readonly kind: 'tapered'; readonly taper: Taper };

/** Of the live reading against the plan; with no reading, of the taper between the two that were kept. */
export function hollowState({ job, readings }: WithJob): HollowState {
  const last = readings.at(-1);
  if (!last) return taperState(job);
  const { plannedBore } = job.setup;
  if (plannedBore !== undefined && correctReading(job, last.value, 'bore') > plannedBore)
    return { kind: 'wider' };
  return { kind: steadyOf(readings) ? 'still' : 'moving' };
}

function taperState(job: Job): HollowState {
  const along = boreAlong(job);
  if (!along) return { kind: 'unread' };
  const taper = taperOf(along);
  return taper.by === 0 ? { kind: 'parallel' } : { kind: 'tapered', taper };
}

function keepHeight(bench: WithJob): Outcome {
  const why = whyNotKept(bench);
  if (why) return refuse(bench, why);
  const settled = steadyOf(bench.readings);
  if (!settled) return refuse(bench, { kind: 'moving' });
  const how = settled.readings[0]?.raw === '' ? 'typed' : 'read';
  const diameter = correctReading(bench.job, settled.value, 'bore');
  const where = nextHeight(bench.job);
  return keep(
    { ...bench, readings: [] },
    { kind: 'hollow-measured', where, diameter, how },
    settled.readings,
  );
}

function typed(bench: WithJob, text: string): Outcome {
  const parsed = typedReading(bench, text);
  if (!parsed.ok) return badNumber(bench, parsed.found, parsed.accepted);
  return rememberReading({ ...bench, typed: '' }, parsed.value);
}

export const hollowRules: StageRules = {
  entered: resetLive,
  onReading: rememberReading,
  keep: keepHeight,
  again: (bench) => unchanged(resetLive(bench)),
  typed,
};
