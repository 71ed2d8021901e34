// How deep a groove is: by detents of the feed counted from touch-off, or, chased by hand, by a crest's flat and counted strokes.
import { type Length, mm } from '../units.ts';
import { grooveDepth } from './form.ts';
import type { WantedForm } from './passes.ts';

/** The feed handle, as facts. */
export interface FeedHandle {
  /** Radial travel of one detent. */
  readonly perDetent: Length;
  /** Detents to turn after reversing before the slide moves. */
  readonly lostDetents: number;
}

/** Why a depth no longer holds: only a new touch-off mends it. */
export type VoidReason = 'restart' | 'overrun' | 'other-board' | 'impossible' | 'set-aside';

/** The feed's position since touch-off, in detents of the board's own count; deeper is positive. */
export type Tracker =
  | {
      readonly kind: 'tracking';
      readonly feed: FeedHandle;
      readonly touchedAt: number;
      readonly count: number;
      /** The count that the slide answers: `count` while driven deeper, up to `lostDetents` above it after turning back. */
      readonly slide: number;
      /** The largest `slide` so far: what has been cut. */
      readonly deepest: number;
    }
  | {
      readonly kind: 'void';
      readonly feed: FeedHandle;
      readonly why: VoidReason;
      /** The groove's depth when it was last known, for the record only. */
      readonly lastDepth: Length;
    };

/** What the turner may believe about the depth; lengths are radial from touch-off, negative is clear of the work. */
export type FedDepth =
  | {
      readonly kind: 'depth';
      /** Not while the slack is open: the slide stands less deep than shown, by an unknown part of the lost detents. */
      readonly proven: boolean;
      /** Detents deeper until it is. */
      readonly detentsToProve: number;
      /** The cutter's depth, and the deepest that it has stood: the depth of the groove. */
      readonly depth: Length;
      readonly deepest: Length;
    }
  | { readonly kind: 'void'; readonly why: VoidReason; readonly lastDepth: Length };

const whole = (count: number): number => {
  if (!Number.isSafeInteger(count))
    throw new RangeError(`a count of detents is a whole number, not ${count}`);
  return count;
};

/** Touch-off: the cutter, driven deeper, just marks the surface at this count. */
export function startDepth(feed: FeedHandle, count: number): Tracker {
  if (!(feed.perDetent > 0 && feed.lostDetents >= 0 && Number.isFinite(feed.lostDetents)))
    throw new RangeError(
      `a feed of ${feed.perDetent} mm a detent, ${feed.lostDetents} lost, is not possible`,
    );
  return { kind: 'tracking', feed, touchedAt: whole(count), count, slide: count, deepest: count };
}

/** The next count: the slide follows at once when driven deeper, and only after the lost detents when turned back. */
export function moveTo(tracker: Tracker, count: number): Tracker {
  if (tracker.kind === 'void') return tracker;
  const now = whole(count);
  const slide = Math.max(now, Math.min(tracker.slide, now + tracker.feed.lostDetents));
  return { ...tracker, count: now, slide, deepest: Math.max(tracker.deepest, slide) };
}

/** The count is not to be trusted any more; what it stood at is kept for the record only. */
export function voidDepth(tracker: Tracker, why: VoidReason): Tracker {
  if (tracker.kind === 'void') return tracker;
  const lastDepth = mm(tracker.feed.perDetent * (tracker.deepest - tracker.touchedAt));
  return { kind: 'void', feed: tracker.feed, why, lastDepth };
}

/** Depth = k x (count - count at touch-off), with k one detent's travel; proven while the slide is driven deeper (derived). */
export function fedDepth(tracker: Tracker): FedDepth {
  if (tracker.kind === 'void') return { kind: 'void', why: tracker.why, lastDepth: tracker.lastDepth };
  const at = (count: number): Length => mm(tracker.feed.perDetent * (count - tracker.touchedAt));
  const detentsToProve = Math.ceil(tracker.slide - tracker.count);
  const [depth, deepest] = [at(tracker.slide), at(tracker.deepest)];
  return { kind: 'depth', proven: detentsToProve === 0, detentsToProve, depth, deepest };
}

/**
 * What shows a depth without a feed (derived from form.ts). Grooves a pitch P apart, of any number of starts, leave of the
 * surface they were cut from a flat w = P - 2 t (h + a). So h = (P - w) / (2 t) - a below that crest, and what the eye misses of
 * w is missed by 1 / (2 t) of it in h: 0.87 of it at 60 degrees.
 *
 * The diameter over the crests shows no depth. While a flat of the turned surface is left, it measures what it measured before.
 * Once neighbouring grooves meet, or the chaser's own roots reach the crest, each further cut takes its depth off the crest too:
 * the diameter tells how much crest is gone, and only the flat that is left tells how deep the groove is below it. The fit asks for
 * just these two of either part: the diameter over the crests as they are (fit.ts), and the depth below them.
 *
 * None of this tells of a chaser that leaned (flanks of two slopes), of strokes that did not track (a groove wider than its tooth),
 * or of crests that are torn or carry a burr.
 */
export interface KnownDepth {
  readonly depth: Length;
  /** It lies within plus or minus this, anywhere alike. */
  readonly within: Length;
}

/** A flat judged against a rule, under a lens: within plus or minus this; our own choice. */
export const FLAT_BY_EYE = mm(0.1);

/** The depth of a groove that leaves this flat; null where such a flat means that nothing is cut yet. */
export function depthFromFlat({ pitch, angle, tip }: WantedForm, flat: Length): KnownDepth | null {
  const depthAt = (left: number): number => grooveDepth(mm(pitch - left), tip, angle);
  if (flat < 0 || depthAt(flat) <= 0) return null;
  // A flat that looks like none may still be as wide as the eye misses.
  const [deepest, shallowest] = [depthAt(Math.max(0, flat - FLAT_BY_EYE)), depthAt(flat + FLAT_BY_EYE)];
  return { depth: mm((deepest + shallowest) / 2), within: mm((deepest - shallowest) / 2) };
}

/** A flat no wider than the eye may miss: the crest may be a point, and its diameter another than before. */
export const isPointed = (flat: Length): boolean => flat <= FLAT_BY_EYE;

/** A depth measured after a number of strokes, each of them counted. */
export interface MeasuredStrokes extends KnownDepth {
  readonly strokes: number;
}

/** A stroke takes its mean depth, give or take this share of it; our own choice. */
const STROKE_SPREAD = 0.5;

/**
 * The depth after more strokes at the same pressure, h = h1 n / n1. The flat's doubt grows in the same measure; k further strokes add
 * their own, each apart from the others, so by the root of k (derived). A groove that widens takes less at each stroke: it is
 * rather shallower than this.
 */
export function depthAfter({ strokes, depth, within }: MeasuredStrokes, now: number): KnownDepth {
  const each = depth / strokes;
  const more = now - strokes;
  return {
    depth: mm(depth + each * more),
    within: mm((within * now) / strokes + STROKE_SPREAD * each * Math.sqrt(more)),
  };
}

export interface StrokesLeft {
  readonly about: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Strokes to a depth H at the same pressure: n1 (H / h1 - 1), less those made since, from the deepest to the shallowest that the
 * measured depth may be (derived). Null where it may be nothing at all, or was reached without counting.
 */
export function strokesLeft(
  { strokes, depth, within }: MeasuredStrokes,
  now: number,
  planned: Length,
): StrokesLeft | null {
  if (strokes === 0 || depth <= within) return null;
  const leftFrom = (measured: number): number => Math.max(0, strokes * (planned / measured) - now);
  return {
    about: Math.ceil(leftFrom(depth)),
    from: Math.floor(leftFrom(depth + within)),
    to: Math.ceil(leftFrom(depth - within)),
  };
}
