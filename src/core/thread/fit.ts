// The fit of a pair: where its threads first touch, what a spigot gives, the spigot that gives what is wanted, and the words for it.
import { type Angle, type Length, mm } from '../units.ts';
import { basicHeight, crestLeft, flankSlope, sharpHeight, tipLoss } from './form.ts';
import { type FitRefusal, type Groove, notPositive, type Pair, type Part, pairRefusal } from './pair.ts';

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

/** The four fits, from the least clearance to the most. */
export const FIT_ORDER = ['seized', 'tight', 'running', 'loose'] as const;
export type FitWord = (typeof FIT_ORDER)[number];

/** Clearances at which one fit becomes the next. */
export interface FitBounds {
  readonly runningFrom: Length;
  readonly looseFrom: Length;
}

/** The same for lids that hold by their fit: a thread is seized below zero, a plain lid only below this. */
export interface WordBounds extends FitBounds {
  readonly seizedBelow?: Length;
}

/** Settings, not a standard: tight from 0, running from 0.08 mm, loose from 0.30 mm. */
export const defaultBounds: FitBounds = { runningFrom: mm(0.08), looseFrom: mm(0.3) };

export function fitWord(clearance: Length, bounds: WordBounds): FitWord {
  if (clearance < (bounds.seizedBelow ?? 0)) return 'seized';
  if (clearance < bounds.runningFrom) return 'tight';
  return clearance < bounds.looseFrom ? 'running' : 'loose';
}

export interface Fit {
  readonly kind: 'fit';
  /** Spigot less bore, diametral. */
  readonly allowance: Length;
  /** Limit less allowance, diametral; negative when the pair cannot go together. */
  readonly clearance: Length;
  /** Axial shake between the flanks; negative when they overlap. */
  readonly play: Length;
  /** The allowance as a share of twice the basic height; zero or less when nothing engages. */
  readonly engagement: number;
  readonly word: FitWord;
}

/** Engaged by less than this share of the basic height a lid may jump its thread; our own choice. */
export const SHALLOW = 0.5;

/** What this spigot gives in this bore, both measured over the crests: the bore after its thread is cut, the spigot before. */
export function fitOf(
  pair: Pair,
  bore: Length,
  spigot: Length,
  bounds: FitBounds = defaultBounds,
): Fit | FitRefusal {
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return limits;
  const wrong = notPositive({ bore, spigot });
  if (wrong) return wrong;
  const allowance = mm(spigot - bore);
  const clearance = mm(limits.limit - allowance);
  return {
    kind: 'fit',
    allowance,
    clearance,
    play: mm((limits.flank - allowance) * flankSlope(pair.angle)),
    engagement: allowance / (2 * basicHeight(pair.pitch, pair.angle)),
    word: fitWord(clearance, bounds),
  };
}

/** The spigot for a wanted clearance, S = B + limit - c. */
export interface Target {
  readonly kind: 'target';
  readonly spigot: Length;
  readonly allowance: Length;
  readonly limit: Length;
}

export function targetSpigot(pair: Pair, bore: Length, wantedClearance: Length): Target | FitRefusal {
  const limits = limitsOf(pair);
  if (limits.kind !== 'limits') return limits;
  const wrong = notPositive({ bore });
  if (wrong) return wrong;
  if (!Number.isFinite(wantedClearance))
    return { kind: 'not-positive', what: 'clearance', found: wantedClearance };
  const allowance = mm(limits.limit - wantedClearance);
  if (allowance <= 0)
    return { kind: 'no-engagement', wanted: wantedClearance, allowance, limit: limits.limit };
  return { kind: 'target', spigot: mm(bore + allowance), allowance, limit: limits.limit };
}

/** The spigots that run: from the loosest (`low`) to the tightest (`high`). */
export interface Band {
  readonly kind: 'band';
  readonly low: Length;
  readonly high: Length;
  /** True when the loose end was cut off at the bore itself, under which nothing engages. */
  readonly endsAtBore: boolean;
}

export function bandOf(pair: Pair, bore: Length, bounds: FitBounds = defaultBounds): Band | FitRefusal {
  const high = targetSpigot(pair, bore, bounds.runningFrom);
  if (high.kind !== 'target') return high;
  const low = bore + high.limit - bounds.looseFrom;
  return { kind: 'band', low: mm(Math.max(low, bore)), high: high.spigot, endsAtBore: low <= bore };
}

/** A lid without a thread: the spigot for a clearance, or for a hold when it is negative. */
export function plainTarget(bore: Length, wanted: Length): Target | FitRefusal {
  const spigot = mm(bore - wanted);
  const wrong = notPositive({ bore, spigot });
  return wrong ?? { kind: 'target', spigot, allowance: mm(-wanted), limit: mm(0) };
}
