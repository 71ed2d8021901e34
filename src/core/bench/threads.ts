// Both threads of a job as cut so far, and how far its bore and spigot are from round and parallel.
import type { Contribution } from '../measure/uncertainty.ts';
import { ONE_READING } from '../measure/uncertainty.ts';
import { wideningOf } from '../thread/milling.ts';
import { taperOf, tightestWidth } from '../thread/out-of-true.ts';
import type { Pair, Part } from '../thread/pair.ts';
import { type Length, mm } from '../units.ts';
import type { Job } from './job.ts';

/** The depth really cut, or the planned one before the cut. */
export const cutDepth = (job: Job, part: Part): Length =>
  job.threads[part].cut?.depth ?? job.setup.depth[part];

/** Both threads as cut so far; a groove not yet cut stands at its planned depth. */
export function pairOf(job: Job, bore: Length): Pair {
  const { setup } = job;
  const groove = (part: Part) => {
    const depth = cutDepth(job, part);
    const widening = setup.cutter.diameter ? wideningOf(setup, part, bore, depth) : mm(0);
    return { depth, tip: setup.cutter.tip, widening };
  };
  return {
    pitch: setup.pitch.length,
    starts: setup.starts,
    angle: setup.cutter.angle,
    female: groove('female'),
    male: groove('male'),
  };
}

/** What the clearance loses against bore less spigot as measured, where the parts are not true, and what that leaves in doubt. */
export interface OutOfTrue {
  readonly loss: Length;
  readonly doubts: readonly Contribution[];
}

const doubtful = (name: string, standard: number): Contribution => ({
  name,
  standard,
  sensitivity: 1,
  degreesOfFreedom: Number.POSITIVE_INFINITY,
});

/** Two readings make a taper, each as good as one reading is. */
const TAPER_DOUBT = Math.SQRT2 * ONE_READING;

function taperIn({ mouth, depth }: Job): OutOfTrue {
  const loss = mouth && depth ? taperOf(mouth.diameter, depth.diameter).tightens : mm(0);
  return { loss, doubts: loss > 0 ? [doubtful('taper of the bore', TAPER_DOUBT)] : [] };
}

function ovalIn(job: Job, part: Part): OutOfTrue {
  const measured = part === 'female' ? job.bore : job.spigot;
  if (!measured || measured.across === undefined) return { loss: mm(0), doubts: [] };
  const { width, standard } = tightestWidth(part, measured.diameter, measured.across);
  const name = `ovality of the ${part === 'female' ? 'bore' : 'spigot'}`;
  return { loss: mm(Math.abs(measured.diameter - width)), doubts: [doubtful(name, standard)] };
}

/** Taper of the bore, and both parts' ovality in the worst turn of the lid. */
export function outOfTrue(job: Job): OutOfTrue {
  const all = [taperIn(job), ovalIn(job, 'female'), ovalIn(job, 'male')];
  return {
    loss: mm(all.reduce((so, { loss }) => so + loss, 0)),
    doubts: all.flatMap(({ doubts }) => doubts),
  };
}
