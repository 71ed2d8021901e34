// How sure the fit is: the doubt of this job's diameters, and of its clearance from readings, feed, touch-offs and lessons.
import { priorSpread } from '../learn/bias.ts';
import { type Combined, diameterDoubt } from '../measure/uncertainty.ts';
import {
  type ClearanceDoubt,
  clearanceDoubt,
  type Fed,
  limitBias,
  plainDoubt,
  TOUCH_OFF_BY_EYE,
} from '../thread/chances.ts';
import { limitsOf } from '../thread/fit.ts';
import { type Length, mm } from '../units.ts';
import type { Job } from './job.ts';
import { outOfTrue } from './out-of-true.ts';
import type { Part } from './setup.ts';
import { cutDepth, isUnmeasured, pairOf } from './threads.ts';

/** The doubt of a bore with this scatter of its readings, by this job's caliper and zero check; for the screen, the sheet and the fit alike. */
export const boreDoubtWith = (
  { setup, zero }: Job,
  scatter: Pick<Combined, 'standard' | 'degreesOfFreedom'> | undefined,
): Combined => diameterDoubt({ name: 'bore', caliper: setup.caliper, zero: zero?.standard, scatter });

/** The bore as well as this job knows it: its caliper, its zero check, and the scatter of its readings. */
export function boreDoubt(job: Job): Combined | null {
  const { bore } = job;
  if (!bore) return null;
  const { standard } = bore;
  const degreesOfFreedom = bore.degreesOfFreedom ?? Number.POSITIVE_INFINITY;
  return boreDoubtWith(job, standard === null ? undefined : { standard, degreesOfFreedom });
}

/** The spigot likewise, held still rather than rocked; also before it is measured. */
export const spigotDoubt = ({ setup, zero }: Job): Combined =>
  diameterDoubt({ name: 'spigot', caliper: setup.caliper, zero: zero?.standard });

function fedOf(job: Job): Fed | undefined {
  const { feed } = job.setup;
  if (!feed) return undefined;
  const detents = (part: 'female' | 'male'): number =>
    job.threads[part].cut?.detents ?? Math.round(cutDepth(job, part) / feed.perDetent);
  return {
    detents: { female: detents('female'), male: detents('male') },
    standardPerDetent: feed.perDetentStandard,
    degreesOfFreedom: feed.perDetentFreedom ?? Number.POSITIVE_INFINITY,
  };
}

/** How far each depth may be out: by the touch-off it was counted from, or by what its measuring leaves open. */
const depthDoubts = ({ setup, threads }: Job) => {
  const { feed, byHand: measured = false } = setup;
  const within = (part: Part): Length =>
    threads[part].chased?.within ?? feed?.touchOff ?? feed?.perDetent ?? TOUCH_OFF_BY_EYE;
  return { touchOff: { female: within('female'), male: within('male') }, measured };
};

/** What the mean of the limit is over the computed one (chances.ts); 0 for a plain lid, and without a bore or a fit. */
export function expectedLimitShift(job: Job): Length {
  if (!job.bore || job.setup.fit === 'plain') return mm(0);
  const pair = pairOf(job, job.bore.diameter);
  const limits = limitsOf(pair);
  return limits.kind === 'limits' ? limitBias({ pair, limits, ...depthDoubts(job) }) : mm(0);
}

/** `measured` leaves the bias out: a trial that teaches the bias must not carry what is believed of it. */
type Counting = 'all' | 'measured';

/** The doubt of the clearance, of the spigot that was kept or else of the target; null without a bore, a fit, or a measured depth. */
export function clearanceInDoubt(job: Job, counting: Counting = 'all'): ClearanceDoubt | null {
  const [bore, spigot] = [boreDoubt(job), spigotDoubt(job)];
  if (!job.bore || !bore || isUnmeasured(job)) return null;
  const { setup } = job;
  const common = {
    bore,
    spigot,
    others: outOfTrue(job).doubts,
    biasSpread: counting === 'all' ? (setup.learned?.spread ?? priorSpread(setup.fit)) : undefined,
  };
  if (setup.fit === 'plain') return plainDoubt(common);
  const pair = pairOf(job, job.bore.diameter);
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return null;
  return clearanceDoubt({ pair, limits, ...common, ...depthDoubts(job), fed: fedOf(job) });
}
