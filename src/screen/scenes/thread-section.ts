// The section that a thread stage draws, and the clearance that it gives.
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import { leftToCut, limitOnceCut, pairOf } from '../../core/bench/threads.ts';
import type { Pair } from '../../core/thread/pair.ts';
import { type Length, mm } from '../../core/units.ts';
import type { SectionModel } from '../panels/section.ts';
import { aimFor } from './memo.ts';

/** The pair as planned; without a bore the cutter's widening is not known and left out. */
function plannedPair(job: Job): Pair {
  const bore = job.bore?.diameter ?? job.setup.plannedBore;
  if (bore !== undefined) return pairOf(job, bore);
  const { pitch, starts, cutter, depth } = job.setup;
  const groove = (part: Part) => ({ depth: depth[part], tip: cutter.tip });
  return { pitch: pitch.length, starts, angle: cutter.angle, female: groove('female'), male: groove('male') };
}

/** Spigot less bore, as kept or as aimed at; null where only one part is drawn. */
function allowanceFor(job: Job, part: Part): Length | null {
  if (part === 'female' || !job.bore) return null;
  const aim = aimFor(job);
  const spigot = job.spigot?.diameter ?? (aim.kind === 'aim' ? aim.target : null);
  return spigot === null ? null : mm(spigot - job.bore.diameter);
}

const PARTS = { female: 'wood solid', male: 'bore solid, spigot grey' } as const;

/** What the drawing shows: of a void depth only the plan. */
export function sectionFor(job: Job, part: Part, depth: Length): SectionModel {
  const allowance = allowanceFor(job, part);
  const unknown = job.threads[part].tracker?.kind === 'void' || (job.setup.byHand && depth === 0);
  const dots = unknown ? 'dots: as planned' : 'dots: uncut';
  return {
    planned: plannedPair(job),
    cut: depth,
    cutting: part,
    allowance,
    notes: [
      PARTS[allowance === null ? 'female' : 'male'],
      ...(leftToCut(job, part, depth) > 0 ? [dots] : []),
    ],
  };
}

/** The clearance once both threads are as deep as planned, or as they are now if that is deeper. */
export function clearanceOnceCut(job: Job, part: Part, depth: Length): Length | null {
  const allowance = allowanceFor(job, part);
  const limit = allowance === null || !job.bore ? null : limitOnceCut(job, job.bore.diameter, part, depth);
  return limit === null ? null : mm(limit - (allowance ?? 0));
}
