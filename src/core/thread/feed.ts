// Depth by the feed: detents counted from touch-off, with the lost motion of a feed that was turned back.
import { type Length, mm } from '../units.ts';

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
      readonly proven: true;
      /** The cutter's depth. */
      readonly depth: Length;
      /** The deepest it has stood: the depth of the groove. */
      readonly deepest: Length;
    }
  | {
      readonly kind: 'depth';
      readonly proven: false;
      /** The slack is open: the slide is somewhere between `from` and `depth` until it is driven deeper again. */
      readonly why: 'lost-motion';
      readonly depth: Length;
      readonly from: Length;
      readonly deepest: Length;
      /** Detents deeper until the shown depth is proven again. */
      readonly detentsToProve: number;
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
  const depths = { depth: at(tracker.slide), deepest: at(tracker.deepest) };
  if (tracker.slide === tracker.count) return { kind: 'depth', proven: true, ...depths };
  return {
    kind: 'depth',
    proven: false,
    why: 'lost-motion',
    ...depths,
    from: at(tracker.count),
    detentsToProve: Math.ceil(tracker.slide - tracker.count),
  };
}
