// The passes of one thread: whole detents of the feed, roughed, hardened where the wood asks, and finished by the last one.
import { type Angle, type Length, mm } from '../units.ts';
import { type Limits, limitsOf } from './fit.ts';
import { crestLeft, sharpHeight, type Tip, tipLoss } from './form.ts';
import { type FitRefusal, fitRefusalText, notPositive } from './pair.ts';

/** How deep: the deepest ordinary profile, the basic one, or a depth of one's own. */
export type Profile = 'deepest' | 'basic' | Length;

export interface PassesWanted {
  readonly pitch: Length;
  readonly starts: number;
  readonly angle: Angle;
  readonly tip: Tip;
  readonly feedPerDetent: Length;
  readonly profile: Profile;
  readonly harden: boolean;
  /** The most one roughing pass may take, radial; a quarter of a millimetre when left out. */
  readonly mostPerPass?: Length;
}

/** Where a pass ends, counted from touch-off. */
export interface Pass {
  readonly detents: number;
  readonly depth: Length;
}

export interface Passes {
  readonly kind: 'passes';
  readonly wantedDepth: Length;
  /** Whole detents from touch-off to full depth. */
  readonly detents: number;
  /** What they really cut. */
  readonly depth: Length;
  readonly rough: readonly Pass[];
  /** Stop here and harden, before the finishing pass; null where the wood needs none. */
  readonly hardenAt: Pass | null;
  /** The last detent, kept for the finish. */
  readonly finish: Pass;
  /** Of a pair with both parts cut so: computed from the depth really cut, never from the wanted one. */
  readonly limits: Limits;
}

export type PassesRefusal =
  | FitRefusal
  /** One detent is too large for this thread: no whole number of detents both roughs and finishes it. */
  | {
      readonly kind: 'feed-too-coarse';
      readonly feedPerDetent: Length;
      readonly wantedDepth: Length;
      readonly mostFeed: Length;
    }
  /** The tip alone is more than the profile: nothing is left to cut. */
  | { readonly kind: 'tip-too-large'; readonly loss: Length; readonly most: Length }
  /** More roughing passes than MOST_ROUGH: no thread on a lathe is that deep. */
  | { readonly kind: 'too-many-passes'; readonly depth: Length; readonly passes: number };

const ROUGH = mm(0.25);

/** The groove's form: how far apart, and the cutter that makes it. */
export type WantedForm = Pick<PassesWanted, 'pitch' | 'angle' | 'tip'>;

/** 17/24 H, the depth of an external thread's core (ISO 68-1, h3), or 5/8 H, the basic height (H1), less the tip; or as asked. */
export function wantedDepth(of: WantedForm & Pick<PassesWanted, 'profile'>): Length {
  if (typeof of.profile === 'number') return of.profile;
  const share = of.profile === 'deepest' ? 17 / 24 : 5 / 8;
  return mm(share * sharpHeight(of.pitch, of.angle) - tipLoss(of.tip, of.angle));
}

/** The nearest whole number of detents whose groove leaves a crest. */
function wholeDetents(wanted: PassesWanted, depth: Length): number {
  const nearest = Math.round(depth / wanted.feedPerDetent);
  const left = (count: number): number =>
    crestLeft(wanted.pitch, mm(count * wanted.feedPerDetent), wanted.tip, wanted.angle);
  return nearest > 1 && left(nearest) <= 0 && left(nearest - 1) > 0 ? nearest - 1 : nearest;
}

/** Our own choice, far beyond any thread on a lathe: a quarter of a metre deep in ordinary passes. */
const MOST_ROUGH = 1000;

function roughPasses(wanted: PassesWanted, detents: number): readonly Pass[] | PassesRefusal {
  const step = Math.max(1, Math.floor((wanted.mostPerPass ?? ROUGH) / wanted.feedPerDetent + 1e-9));
  const passes = Math.ceil((detents - 1) / step);
  if (passes > MOST_ROUGH) return { kind: 'too-many-passes', depth: passAt(wanted, detents).depth, passes };
  return Array.from({ length: passes }, (_, at) => passAt(wanted, Math.min((at + 1) * step, detents - 1)));
}

const passAt = (wanted: PassesWanted, detents: number): Pass => ({
  detents,
  depth: mm(detents * wanted.feedPerDetent),
});

function pairLimits(wanted: PassesWanted, depth: Length): Limits | FitRefusal {
  const groove = { depth, tip: wanted.tip };
  const { pitch, starts, angle } = wanted;
  return limitsOf({ pitch, starts, angle, female: groove, male: groove });
}

/** The plan of passes, or why it isn't possible, with the nearest one that is. */
export function planPasses(wanted: PassesWanted): Passes | PassesRefusal {
  const { pitch, feedPerDetent, mostPerPass = ROUGH } = wanted;
  const wrong = notPositive({ pitch, 'feed per detent': feedPerDetent, 'roughing pass': mostPerPass });
  if (wrong) return wrong;
  const depth = wantedDepth(wanted);
  const loss = tipLoss(wanted.tip, wanted.angle);
  if (typeof wanted.profile !== 'number' && depth <= 0)
    return { kind: 'tip-too-large', loss, most: mm(loss + depth) };
  const asked = pairLimits(wanted, depth);
  if (asked.kind !== 'limits') return asked;
  const detents = wholeDetents(wanted, depth);
  if (detents < 2)
    return { kind: 'feed-too-coarse', feedPerDetent, wantedDepth: depth, mostFeed: mm(depth / 2) };
  const finish = passAt(wanted, detents);
  const limits = pairLimits(wanted, finish.depth);
  if (limits.kind !== 'limits') return limits;
  const rough = roughPasses(wanted, detents);
  if ('kind' in rough) return rough;
  const hardenAt = wanted.harden ? passAt(wanted, detents - 1) : null;
  return { kind: 'passes', wantedDepth: depth, ...finish, rough, hardenAt, finish, limits };
}

/** The sentence for a person: what cannot be planned, and the nearest thing that can. */
export function passesRefusalText(refused: PassesRefusal): string {
  switch (refused.kind) {
    case 'feed-too-coarse':
      return `one detent of ${refused.feedPerDetent.toFixed(3)} mm is too coarse for a depth of ${refused.wantedDepth.toFixed(3)} mm. Roughing and finishing need a feed of at most ${refused.mostFeed.toFixed(3)} mm a detent`;
    case 'tip-too-large':
      return `the cutter's tip takes ${refused.loss.toFixed(3)} mm off the depth, and this profile has only ${refused.most.toFixed(3)} mm. Take a sharper cutter or a coarser pitch`;
    case 'too-many-passes':
      return `a groove ${refused.depth.toFixed(0)} mm deep takes ${refused.passes} roughing passes, and up to ${MOST_ROUGH} can be planned. Take a finer pitch`;
    default:
      return fitRefusalText(refused);
  }
}
