// Hollow: what remains to the planned bore, and the taper from a reading at the mouth and one at depth.
import { type Taper, taperOf } from '../../thread/taper-and-oval.ts';
import type { Job } from '../job.ts';
import { boreAlong } from '../out-of-true.ts';
import { keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import { correctReading, type Held, heldStill, howHeld, rememberReading, withTyped } from './readings.ts';
import { resetLive, type StageRules, type WithJob } from './rules.ts';

/** Mouth first, then depth; a third reading is the mouth again. */
export const nextHeight = (job: WithJob['job']): 'mouth' | 'depth' =>
  job.mouth !== null && job.depth === null ? 'depth' : 'mouth';

/** What the screen says of the hollow. */
export type HollowState =
  | { readonly kind: 'unread' | 'wider' | Held | 'parallel' }
  | { readonly kind: 'tapered'; readonly taper: Taper };

/** Of the live reading against the plan; with no reading, of the taper between the two that were kept. */
export function hollowState(bench: WithJob): HollowState {
  const { job, readings } = bench;
  const last = readings.at(-1);
  if (!last) return taperState(job);
  const { plannedBore } = job.setup;
  if (plannedBore !== undefined && correctReading(job, last.value, 'bore') > plannedBore)
    return { kind: 'wider' };
  return { kind: howHeld(bench) };
}

function taperState(job: Job): HollowState {
  const along = boreAlong(job);
  if (!along) return { kind: 'unread' };
  const taper = taperOf(along);
  return taper.by === 0 ? { kind: 'parallel' } : { kind: 'tapered', taper };
}

function keepHeight(bench: WithJob): Outcome {
  const held = heldStill(bench);
  if ('kind' in held) return refuse(bench, held);
  const { how, readings } = held;
  const diameter = correctReading(bench.job, held.value, 'bore');
  const fact = { kind: 'hollow-measured', where: nextHeight(bench.job), diameter, how } as const;
  return keep({ ...bench, readings: [] }, fact, readings);
}

export const hollowRules: StageRules = {
  entered: resetLive,
  onReading: rememberReading,
  keep: keepHeight,
  again: (bench) => unchanged(resetLive(bench)),
  typed: (bench, text) =>
    withTyped(bench, text, (reading) => rememberReading({ ...bench, typed: '' }, reading)),
};
