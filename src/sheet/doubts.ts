// How far the figures of a sheet may be out, at 95 %: diameters from caliper, zero check and capture; what is made of them from both.
import { clearanceInDoubt } from '../core/bench/doubt.ts';
import type { Job } from '../core/bench/job.ts';
import { type Combined, combine, diameterContributions } from '../core/measure/uncertainty.ts';
import { allowanceBudget } from '../core/thread/chances.ts';
import { basicHeight } from '../core/thread/form.ts';
import { type Length, mm } from '../core/units.ts';

function diameterDoubt(job: Job, name: 'bore' | 'spigot'): Combined | null {
  const taken = job[name];
  if (!taken) return null;
  const zero = job.zero ? { zero: job.zero.standard } : {};
  const common = diameterContributions({
    ...{ name, diameter: taken.diameter, caliper: job.setup.caliper },
    ...zero,
  });
  const standard = taken.kind === 'bore-taken' ? taken.standard : null;
  const freedom = taken.kind === 'bore-taken' ? taken.degreesOfFreedom : null;
  const degreesOfFreedom = freedom ?? Number.POSITIVE_INFINITY;
  const capture =
    standard === null ? [] : [{ name: `${name}: capture`, sensitivity: 1, standard, degreesOfFreedom }];
  return combine([...common, ...capture]);
}

/** Half-width of a diameter's interval; null while it is not taken. */
export function diameterHalf(job: Job, name: 'bore' | 'spigot'): Length | null {
  const doubt = diameterDoubt(job, name);
  return doubt && mm(doubt.expanded95);
}

/** Half-width of the clearance's interval, and what most of it comes from. */
export function clearanceHalf(job: Job): { readonly half: Length; readonly mostFrom: string } | null {
  const doubt = clearanceInDoubt(job);
  return doubt && { half: mm(doubt.expanded95), mostFrom: doubt.largest.name };
}

/** Half-width of the engagement's interval, as a share: the allowance's, over twice the basic height. */
export function engagementHalf(job: Job): number | null {
  const [bore, spigot] = [diameterDoubt(job, 'bore'), diameterDoubt(job, 'spigot')];
  if (!bore || !spigot) return null;
  const known = ({ standard, degreesOfFreedom }: Combined) => ({ standard: mm(standard), degreesOfFreedom });
  const allowance = allowanceBudget({ bore: known(bore), spigot: known(spigot) });
  return allowance.expanded95 / (2 * basicHeight(job.setup.pitch.length, job.setup.cutter.angle));
}
