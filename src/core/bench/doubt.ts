// How sure the fit is: the budget of this job's clearance from its own readings, feed and touch-offs.
import { type Combined, combine, diameterContributions } from '../measure/uncertainty.ts';
import { type Chances, chancesOf, clearanceBudget } from '../thread/chances.ts';
import { limitsOf } from '../thread/limits.ts';
import { type Length, mm } from '../units.ts';
import type { Job } from './job.ts';
import type { Part } from './setup.ts';
import { expectedOf, pairOf } from './target.ts';

/** Where no feed is known a touch-off by eye is taken to lie within this; our own choice, a setting of the kit's feed otherwise. */
const BY_EYE = mm(0.05);

type Diameter = { readonly standard: Length; readonly degreesOfFreedom: number };

function diameterDoubt(job: Job, name: string, diameter: Length, taken: Diameter | null): Diameter {
  const { caliper } = job.setup;
  const zero = job.zero ? { zero: job.zero.standard } : {};
  const common = diameterContributions({ name, diameter, caliper, ...zero });
  const own = taken ? [{ name: `${name}: capture`, sensitivity: 1, ...taken }] : [];
  const { standard, degreesOfFreedom } = combine([...common, ...own]);
  return { standard: mm(standard), degreesOfFreedom };
}

function boreDoubt(job: Job, bore: NonNullable<Job['bore']>): Diameter {
  const { standard, degreesOfFreedom } = bore;
  const taken =
    standard === null ? null : { standard, degreesOfFreedom: degreesOfFreedom ?? Number.POSITIVE_INFINITY };
  return diameterDoubt(job, 'bore', bore.diameter, taken);
}

/** Both diameters as well as this job knows them; a spigot not taken yet is taken to be as large as the bore. */
export const diameterDoubts = (
  job: Job,
  bore: NonNullable<Job['bore']>,
): { readonly bore: Diameter; readonly spigot: Diameter } => ({
  bore: boreDoubt(job, bore),
  spigot: diameterDoubt(job, 'spigot', job.spigot?.diameter ?? bore.diameter, null),
});

function fedOf(job: Job, part: Part) {
  const { feed, depth } = job.setup;
  const detents = job.threads[part].cut?.detents ?? (feed ? Math.round(depth[part] / feed.perDetent) : 0);
  return {
    detents,
    standardPerDetent: feed?.perDetentStandard ?? mm(0),
    degreesOfFreedom: Number.POSITIVE_INFINITY,
  };
}

/** `measured` leaves out what learning left in doubt: a trial that teaches must not carry what was taught before. */
export type Counting = 'all' | 'measured';

/** The clearance's budget for the spigot taken, or for the target while there is none; null without a bore or a fit. */
export function clearanceInDoubt(job: Job, counting: Counting = 'all'): Combined | null {
  if (!job.bore) return null;
  const { bore, spigot } = diameterDoubts(job, job.bore);
  if (job.setup.fit === 'plain')
    return combine([
      { name: 'bore', sensitivity: 1, ...bore },
      { name: 'spigot', sensitivity: -1, ...spigot },
    ]);
  const pair = pairOf(job, job.bore.diameter);
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return null;
  const { feed, learned } = job.setup;
  const within = feed?.touchOff ?? feed?.perDetent ?? BY_EYE;
  const biasSpread = learned && counting === 'all' ? { biasSpread: learned.spread } : {};
  return clearanceBudget({
    pair,
    limits,
    bore,
    spigot,
    touchOff: { female: { within }, male: { within } },
    fed: { female: fedOf(job, 'female'), male: fedOf(job, 'male') },
    ...biasSpread,
  });
}

/** The chance of each fit at the first trial of this spigot; null where there is nothing to judge yet. */
export function chancesFor(job: Job, spigot: Length): Chances | null {
  const expected = expectedOf(job, spigot);
  const doubt = clearanceInDoubt(job);
  if (expected.kind !== 'expected' || !doubt) return null;
  return chancesOf(expected.clearance, doubt.standard, job.setup.bounds);
}
