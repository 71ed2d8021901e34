// The section that a thread stage draws, and the clearance that it gives.
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import type { Bench } from '../../core/bench/state.ts';
import { pairOf } from '../../core/bench/threads.ts';
import { lengthFigure } from '../../core/figures.ts';
import { limitsOf } from '../../core/thread/limits.ts';
import type { Pair } from '../../core/thread/pair.ts';
import { type Length, mm } from '../../core/units.ts';
import type { SectionModel } from '../panels/section.ts';
import type { Figure } from '../scene.ts';
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
  const left = job.setup.depth[part] - depth > LEAST_LEFT;
  const unknown = job.threads[part].tracker?.kind === 'void' || (job.setup.byHand && depth === 0);
  const dots = unknown ? 'dots: as planned' : 'dots: uncut';
  return {
    planned: plannedPair(job),
    cut: depth,
    cutting: part,
    allowance,
    notes: [PARTS[allowance === null ? 'female' : 'male'], ...(left ? [dots] : [])],
  };
}

/** Millimetres: less than this is nothing still to cut. */
const LEAST_LEFT = 0.005;

/** The clearance once both threads are as deep as planned, or as they are now if that is deeper. */
export function clearanceFact(bench: Bench, job: Job, part: Part, depth: Length): readonly Figure[] {
  const allowance = allowanceFor(job, part);
  if (allowance === null || !job.bore) return [];
  const pair = pairOf(job, job.bore.diameter);
  const deeper = mm(Math.max(pair[part].depth, depth));
  const limits = limitsOf({ ...pair, [part]: { ...pair[part], depth: deeper } });
  return limits.kind === 'limits'
    ? [{ name: 'clearance', value: lengthFigure(mm(limits.limit - allowance), bench.unit) }]
    : [];
}
