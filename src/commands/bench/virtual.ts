// The virtual bench beside the screen: what its simulated turner does at each stage, and the kit that goes with it.

import type { Job } from '../../core/bench/job.ts';
import type { Kit, Part } from '../../core/bench/setup.ts';
import { nextPlace } from '../../core/bench/stages/hollow.ts';
import { detentsDone } from '../../core/bench/stages/thread.ts';
import type { Bench } from '../../core/bench/state.ts';
import { aimOf } from '../../core/bench/target.ts';
import { defaultBounds } from '../../core/thread/fit.ts';
import { degrees, type LengthUnit, mm } from '../../core/units.ts';
import type { Activity } from '../../link/virtual/hand.ts';

const VIRTUAL_CALIPER = 'virtual caliper';

/** Equipment that only exists here, under its own names, so that it never mixes with what real trials taught. */
export const virtualKit = (unit: LengthUnit): Kit => ({
  calipers: [{ name: VIRTUAL_CALIPER, limitOfError: mm(0.02), step: mm(0.01) }],
  cutters: [
    { name: 'virtual cutter', angle: degrees(60), tip: { kind: 'sharp' }, diameter: mm(20), topSpeed: 6000 },
  ],
  feeds: [
    {
      name: 'virtual feed',
      perDetent: mm(0.2),
      lostDetents: 1,
      perDetentStandard: mm(0.001),
      touchOff: mm(0.03),
    },
  ],
  unit,
  bounds: defaultBounds,
  wanted: mm(0.15),
});

/** A job made on the virtual bench: known by the caliper it was measured with. */
export const isVirtual = (job: Job): boolean => job.setup.caliper.name === VIRTUAL_CALIPER;

function threading(job: Job, part: Part): Activity {
  const { tracker, cut } = job.threads[part];
  const { feed, depth } = job.setup;
  if (tracker?.kind !== 'tracking') return { doing: 'touch-off' };
  if (cut || !feed) return { doing: 'rest' };
  const detents = Math.round(depth[part] / feed.perDetent) - detentsDone(tracker);
  return detents > 0 ? { doing: 'feed-in', detents } : { doing: 'rest' };
}

/** What a turner would be doing at the stage that the bench shows. */
export function activityFor(bench: Bench): Activity {
  const { job, mode } = bench;
  if (!job || mode.kind !== 'stage' || job.closed) return { doing: 'rest' };
  switch (job.stage) {
    case 'zero':
      return { doing: 'close-jaws' };
    case 'hollow':
      return { doing: 'measure-hollow', where: nextPlace(job) };
    case 'bore thread':
      return threading(job, 'female');
    case 'bore size':
      return job.bore ? { doing: 'rest' } : { doing: 'rock-bore' };
    case 'spigot': {
      const aim = aimOf(job);
      return aim.kind === 'aim' ? { doing: 'cut-spigot', target: aim.target } : { doing: 'rest' };
    }
    case 'spigot thread':
      return threading(job, 'male');
    case 'trial':
      return { doing: 'trial' };
    case 'record':
      return { doing: 'rest' };
    default:
      return job.stage satisfies never;
  }
}

/** Activities with the same key go on without starting over; a thread going deeper is one activity until it is there. */
export const activityKey = (bench: Bench, activity: Activity): string =>
  JSON.stringify([bench.job?.id, bench.job?.stage, activity.doing === 'feed-in' ? 'feed-in' : activity]);
