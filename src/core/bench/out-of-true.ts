// How far a job's bore and spigot are from round and parallel, what that does to their fit, and when to ask about it.
import { type Contribution, ONE_READING } from '../measure/uncertainty.ts';
import { type Part, partWord } from '../thread/pair.ts';
import { type Along, type Ovality, ovalityOf, pairTaper, tightestOf } from '../thread/taper-and-oval.ts';
import { type Length, mm } from '../units.ts';
import type { Job, Spigot } from './job.ts';
import { ovalPerPercent, woodOf } from './seasons.ts';

/** A spigot's sizes: at its shoulder, square to that, and at its end. */
export type SpigotSize = Pick<Spigot, 'diameter' | 'across' | 'end'>;

/** What the clearance loses against bore less spigot as measured, where the parts are not true, and what that leaves in doubt. */
interface OutOfTrue {
  readonly loss: Length;
  /** How much looser the pair is at its loosest place and turn than at its tightest. */
  readonly spread: Length;
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

/** What the two ends of a bore and of a spigot are called. */
export const BORE_ENDS = { near: 'mouth', far: 'depth' } as const;
export const SPIGOT_ENDS = { near: 'shoulder', far: 'end' } as const;

/** The bore at its mouth and at depth; null until both were measured. */
export const boreAlong = ({ mouth, depth }: Pick<Job, 'mouth' | 'depth'>): Along | null =>
  mouth && depth ? { near: mouth.diameter, far: depth.diameter } : null;

/** The spigot at its shoulder and at its end; null until both were measured. */
export const spigotAlong = (spigot: SpigotSize | null): Along | null =>
  spigot?.end === undefined ? null : { near: spigot.diameter, far: spigot.end };

function taperIn(job: Job, spigot: SpigotSize | null): OutOfTrue {
  const { tightens, gains } = pairTaper(boreAlong(job), spigotAlong(spigot));
  const parts = [...(boreAlong(job) ? ['bore'] : []), ...(spigotAlong(spigot) ? ['spigot'] : [])];
  return {
    loss: tightens,
    spread: mm(tightens + Math.max(0, gains)),
    doubts: tightens > 0 ? [doubtful(`taper of the ${parts.join(' and ')}`, TAPER_DOUBT)] : [],
  };
}

/** What names the doubt that a part's ovality leaves. */
export const ovalDoubt = (part: Part): string => `ovality of the ${partWord(part)}`;

/** A part's ovality; null until it was measured square to its diameter too. */
export const ovalityIn = (
  of: { readonly diameter: Length; readonly across?: Length } | null,
): Ovality | null => (of?.across === undefined ? null : ovalityOf(of.diameter, of.across));

function ovalIn(
  part: Part,
  of: { readonly diameter: Length; readonly across?: Length } | null,
  scatter: number,
): OutOfTrue {
  const oval = ovalityIn(of);
  if (!of || !oval) return { loss: mm(0), spread: mm(0), doubts: [] };
  return {
    loss: mm(Math.abs(of.diameter - tightestOf(part, oval))),
    spread: mm(oval.widest - oval.narrowest),
    doubts: [doubtful(ovalDoubt(part), Math.hypot(oval.standard, scatter))],
  };
}

/** Taper of both parts, and their ovality in the worst turn of the lid; the spigot as kept, or as it is given. */
export function outOfTrue(job: Job, spigot: SpigotSize | null = job.spigot): OutOfTrue {
  const all = [
    taperIn(job, spigot),
    ovalIn('female', job.bore, job.bore?.acrossStandard ?? ONE_READING),
    // A spigot is held still: what its readings scatter by is within the caliper's own doubt.
    ovalIn('male', spigot, 0),
  ];
  const sum = (pick: (of: OutOfTrue) => Length): Length => mm(all.reduce((so, of) => so + pick(of), 0));
  return {
    loss: sum(({ loss }) => loss),
    spread: sum(({ spread }) => spread),
    doubts: all.flatMap(({ doubts }) => doubts),
  };
}

/** The true spigot that fits as this one does. */
export const fitsLike = (job: Job, spigot: SpigotSize): Length =>
  mm(spigot.diameter + outOfTrue(job, spigot).loss - outOfTrue(job, null).loss);

/** From this much ovality on a percent of moisture, which a blank may lose in days, it is worth asking about; our own choice. */
const OVAL_FROM = mm(0.05);
/** The same of a wood of which nothing is known; our own choice. */
const LARGE = mm(60);
/** What a turner adds to the name of wood that was not dried. */
const STILL_WET = /\b(?:green|wet)\b/i;

/** Whether a part is likely to be oval by enough to matter: not hardened, and large for how its wood moves, or still wet. */
export function asksAcross(job: Job, part: Part): boolean {
  const diameter = job.bore?.diameter;
  if (diameter === undefined || job.threads[part].hardened) return false;
  const wood = woodOf(job.setup, part);
  const oval = ovalPerPercent(wood, diameter);
  return oval === null ? diameter >= LARGE || STILL_WET.test(wood ?? '') : oval >= OVAL_FROM;
}
