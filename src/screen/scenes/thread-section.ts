// The section that a thread stage draws, and the clearance it comes to.
import type { Job } from '../../core/bench/job.ts';
import type { Part } from '../../core/bench/setup.ts';
import type { Bench } from '../../core/bench/state.ts';
import { pairOf } from '../../core/bench/target.ts';
import { limitsOf, type Pair } from '../../core/thread/fit.ts';
import { type Length, mm } from '../../core/units.ts';
import { lengthFigure } from '../figures.ts';
import type { SectionModel } from '../panels/section/section.ts';
import type { Fact } from '../scene.ts';
import { aimFor } from './known.ts';

/** The pair as planned; without a bore the cutter's widening is not known and left out. */
function plannedPair(job: Job): Pair {
  const bore = job.bore?.diameter ?? job.setup.plannedBore;
  if (bore !== undefined) return pairOf(job, bore);
  const { pitch, starts, cutter, depth } = job.setup;
  const groove = (part: Part) => ({ depth: depth[part], tip: cutter.tip });
  return { pitch: pitch.length, starts, angle: cutter.angle, female: groove('female'), male: groove('male') };
}

/** Spigot less bore, as taken or as aimed at; null where only one part is to be drawn. */
function allowanceFor(job: Job, part: Part): Length | null {
  if (part === 'female' || !job.bore) return null;
  const aim = aimFor(job);
  const spigot = job.spigot?.diameter ?? (aim.kind === 'aim' ? aim.target : null);
  return spigot === null ? null : mm(spigot - job.bore.diameter);
}

const NOTES = {
  female: ['dots: still to cut'],
  male: ['bore solid, spigot grey', 'dots: still to cut'],
} as const;

export function sectionFor(job: Job, part: Part, depth: Length): SectionModel {
  const allowance = allowanceFor(job, part);
  return {
    planned: plannedPair(job),
    cut: depth,
    cutting: part,
    allowance,
    notes: NOTES[allowance === null ? 'female' : 'male'],
  };
}

/** What the clearance comes to when both threads are at the depths they stand at or are planned for. */
export function clearanceFact(bench: Bench, job: Job, part: Part): readonly Fact[] {
  const allowance = allowanceFor(job, part);
  if (allowance === null || !job.bore) return [];
  const limits = limitsOf(pairOf(job, job.bore.diameter));
  return limits.kind === 'limits'
    ? [{ name: 'clearance', value: lengthFigure(mm(limits.limit - allowance), bench.unit) }]
    : [];
}
