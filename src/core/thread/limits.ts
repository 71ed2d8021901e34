// How much over the bore a spigot may be: where flanks, crests and corners of the two threads first touch.
import { type Angle, type Length, mm } from '../units.ts';
import { crestLeft, flankSlope, sharpHeight, tipLoss } from './form.ts';
import { type FitRefusal, type Groove, type Pair, type Part, pairRefusal } from './pair.ts';

/** Allowances (spigot less bore, diametral) at which the threads first touch. */
export interface Limits {
  readonly kind: 'limits';
  /** The flanks touch all round. */
  readonly flank: Length;
  /** A crest bottoms in the other part's root. */
  readonly root: Length;
  /** The smaller of the two. */
  readonly limit: Length;
  readonly limitedBy: 'flank' | 'root';
  /** A crest as turned, square at its corners, meets a round root: below `limit` only for narrow crests and large noses. */
  readonly corner: Length;
  /** The crest left on each part. */
  readonly crest: Readonly<Record<Part, Length>>;
}

/**
 * The parts on which one more cut adds clearance: either at the flanks; at a root only the shallower one, and neither by itself
 * where both are as deep.
 */
export function partsThatAdd({ female, male }: Pair, { limitedBy }: Limits): readonly Part[] {
  if (limitedBy === 'flank') return ['female', 'male'];
  if (female.depth === male.depth) return [];
  return female.depth < male.depth ? ['female'] : ['male'];
}

/** Depth of a groove's sharp point below the surface: h + a, and what a widened groove is worth in depth, w / t. */
const sharpDepth = (groove: Groove, angle: Angle): number =>
  groove.depth + tipLoss(groove.tip, angle) + (groove.widening ?? 0) / flankSlope(angle);

/**
 * How far a crest of this width can go into a groove: all of its depth where the root is flat or sharp, less the
 * sagitta of the nose under the crest's width where it is round. Derived; found by the overlap search in the tests.
 */
function cornerReach(groove: Groove, crest: Length, angle: Angle): number {
  if (groove.tip.kind !== 'radius') return groove.depth;
  const half = Math.max(crest / 2 - (groove.widening ?? 0), 0);
  const { radius } = groove.tip;
  if (half >= radius * Math.cos(angle / 2)) return groove.depth;
  return groove.depth - (radius - Math.sqrt(radius * radius - half * half));
}

/**
 * The limits of a pair (derived; with the flats of ISO 68-1 the flank limit is D - D1 of ISO 724, with the radii of BS 84
 * it is twice the depth of BS 84). A limit of zero or less is an answer too: threads still too shallow to engage.
 */
export function limitsOf(pair: Pair): Limits | FitRefusal {
  const refused = pairRefusal(pair);
  if (refused) return refused;
  const { pitch, angle, female, male } = pair;
  const crest = {
    female: crestLeft(pitch, female.depth, female.tip, angle, female.widening),
    male: crestLeft(pitch, male.depth, male.tip, angle, male.widening),
  };
  const flank = mm(2 * (sharpDepth(female, angle) + sharpDepth(male, angle)) - 2 * sharpHeight(pitch, angle));
  const root = mm(2 * Math.min(female.depth, male.depth));
  const reach = Math.min(cornerReach(female, crest.male, angle), cornerReach(male, crest.female, angle));
  return {
    kind: 'limits',
    flank,
    root,
    limit: mm(Math.min(flank, root)),
    limitedBy: flank <= root ? 'flank' : 'root',
    corner: mm(2 * reach),
    crest,
  };
}
