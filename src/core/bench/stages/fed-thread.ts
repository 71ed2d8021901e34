// Both thread stages with a feed: touch-off, detents counted to depth, hardening where the plan asks, the depth kept; and the count voided when it can't be trusted.
import { parseCount } from '../../quantity.ts';
import { fedDepth, type Tracker, type VoidReason } from '../../thread/depth.ts';

import { limitsOf } from '../../thread/fit.ts';
import { PARTS } from '../../thread/pair.ts';
import { type Length, type Millis, mm } from '../../units.ts';

import type { FeedMark } from '../entry.ts';
import type { LineEvent } from '../event.ts';
import type { Job, Thread } from '../job.ts';
import { badNumber, keep, type Outcome, refuse, unchanged } from '../outcome.ts';
import type { Part } from '../setup.ts';
import type { Bench } from '../state.ts';
import { deepestGroove, pairOf } from '../threads.ts';
import { strokeKeyed } from './chased-thread.ts';
import { ignoreReadings, withTyped } from './readings.ts';
import { resetLive, type StageRules, type WithJob } from './rules.ts';

/** The feed's position now: the board's total, or the count of keys from 0 where no board counts. */
const markNow = ({ feed, now }: WithJob): FeedMark =>
  feed ? { total: feed.total, board: feed.board ?? 'unnamed', at: feed.at } : { total: 0, at: now };

/** A fresh touch-off: needed first, and again after a void. A board that counts a feed, or a line that was not heard yet, must report its count first. */
function touchOff(bench: WithJob, part: Part): Outcome {
  const { open, board, checked } = bench.line;
  const promised = open && (board ? board.parts.includes('feed') : checked === null);
  if (promised && !bench.feed) return refuse(bench, { kind: 'missing', what: 'count' });
  return keep(bench, { kind: 'touched-off', part, mark: markNow(bench) });
}

/** A board counts a feed, and the job has none to make depths of it. */
export const isFeedUnused = ({ job, line }: WithJob): boolean =>
  job.setup.feed === undefined &&
  !job.setup.byHand &&
  job.setup.fit === 'threaded' &&
  (line.board?.parts.includes('feed') ?? false);

/** Detents from touch-off to the deepest the slide has stood. */
export const detentsDone = (tracker: Tracker): number =>
  tracker.kind === 'tracking' ? tracker.deepest - tracker.touchedAt : 0;

/** The rough depth is reached and the wood asks for hardening, which was not done yet. */
function wantsHardening(bench: WithJob, part: Part): boolean {
  const { setup, threads } = bench.job;
  const { tracker, hardened } = threads[part];
  if (!setup.hardens || hardened || !setup.feed || tracker?.kind !== 'tracking') return false;
  const wanted = Math.round(setup.depth[part] / setup.feed.perDetent);
  return wanted > 1 && detentsDone(tracker) === wanted - 1;
}

/** How far the cutting of one part has come. */
export interface Cutting {
  readonly part: Part;
  /** Whole detents of the plan; null where the feed is not known. */
  readonly wanted: number | null;
  readonly done: number;
  readonly depth: Length;
  readonly tracker: Tracker | null;
  readonly hardening: boolean;
}

export function cuttingOf(bench: WithJob, part: Part): Cutting {
  const { setup, threads } = bench.job;
  const { tracker, cut } = threads[part];
  const tracked = tracker?.kind === 'tracking' ? fedDepth(tracker) : null;
  return {
    part,
    wanted: setup.feed ? Math.round(setup.depth[part] / setup.feed.perDetent) : null,
    done: tracker ? detentsDone(tracker) : 0,
    depth: tracked?.kind === 'depth' ? mm(Math.max(0, tracked.deepest)) : (cut?.depth ?? mm(0)),
    tracker,
    hardening: wantsHardening(bench, part),
  };
}

/** What the screen says of the groove. */
export type CuttingState =
  | { readonly kind: 'no-feed' | 'not-touched' | 'uncounted' | 'touched' | 'harden' }
  | { readonly kind: 'too-deep' | 'full-depth' | 'last-detent' | 'cutting' }
  | { readonly kind: 'void'; readonly why: VoidReason }
  | { readonly kind: 'kept'; readonly depth: Length }
  | { readonly kind: 'unproven'; readonly detents: number };

export function cuttingState(bench: WithJob, cutting: Cutting): CuttingState {
  const { tracker, part } = cutting;
  const { cut, touchOff: touched } = bench.job.threads[part];
  if (isFeedUnused(bench) && !cut) return { kind: 'no-feed' };
  if (tracker?.kind === 'void') return { kind: 'void', why: tracker.why };
  if (tracker) return countedState(bench, cutting, tracker);
  if (cut) return { kind: 'kept', depth: cut.depth };
  return { kind: touched ? 'uncounted' : 'not-touched' };
}

function countedState({ job }: WithJob, cutting: Cutting, tracker: Tracker): CuttingState {
  const { wanted, done, hardening, part, depth } = cutting;
  const fed = fedDepth(tracker);
  const reached = wanted !== null && done >= wanted;
  if (fed.kind === 'depth' && !fed.proven && !reached)
    return { kind: 'unproven', detents: fed.detentsToProve };
  if (done === 0) return { kind: 'touched' };
  if (hardening) return { kind: 'harden' };
  if (wanted !== null && done > wanted) return { kind: 'too-deep' };
  if (isDepthKept(job.threads[part], cutting)) return { kind: 'kept', depth };
  if (done === wanted) return { kind: 'full-depth' };
  return { kind: wanted !== null && done === wanted - 1 ? 'last-detent' : 'cutting' };
}

/** The depth that the groove has now is the one that was kept. */
export const isDepthKept = ({ cut }: Thread, { depth }: Cutting): boolean =>
  cut !== null && cut.depth === depth;

/** How much looser the groove makes the fit than the planned one would; null where either pair has no limit. */
export function loosening(job: Job, bore: Length, { part, depth }: Cutting): Length | null {
  const pair = pairOf(job, bore);
  const planned = limitsOf({ ...pair, [part]: { ...pair[part], depth: job.setup.depth[part] } });
  const now = limitsOf({ ...pair, [part]: { ...pair[part], depth } });
  return planned.kind === 'limits' && now.kind === 'limits' ? mm(now.limit - planned.limit) : null;
}

function keepThread(bench: WithJob, part: Part): Outcome {
  const { touchOff: touched, tracker } = bench.job.threads[part];
  if (!touched || (!tracker && bench.job.setup.feed)) return touchOff(bench, part);
  if (!tracker) return refuse(bench, { kind: 'missing', what: 'feed' });
  const depth = fedDepth(tracker);
  if (depth.kind === 'void') return touchOff(bench, part);
  if (wantsHardening(bench, part)) return keep(bench, { kind: 'hardened', part });
  if (depth.deepest <= 0) return refuse(bench, { kind: 'missing', what: 'depth' });
  return cut(bench, part, detentsDone(tracker), depth.deepest, depth.proven);
}

const cut = (bench: WithJob, part: Part, detents: number | null, depth: Length, proven: boolean): Outcome =>
  keep(bench, { kind: 'thread-cut', part, detents, depth, proven });

const DEPTH_ACCEPTED = 'a radial depth above zero and under two pitches';

/** A whole number is detents where the feed is known; anything with a point or a unit is a depth. */
function typed(bench: WithJob, part: Part, text: string): Outcome {
  const { feed } = bench.job.setup;
  if (feed && /^\d+$/.test(text.trim())) {
    const count = parseCount(text, 1, 999);
    if (!count.ok) return badNumber(bench, count.found, count.accepted);
    const reached = mm(count.value * feed.perDetent);
    if (reached > deepestGroove(bench.job.setup)) return badNumber(bench, text, DEPTH_ACCEPTED);
    return cut(bench, part, count.value, reached, false);
  }
  return withTyped(bench, text, ({ value: depth }) =>
    depth <= 0 || depth > deepestGroove(bench.job.setup)
      ? badNumber(bench, text, DEPTH_ACCEPTED)
      : cut(bench, part, null, depth, false),
  );
}

/** Detents counted by key, where no board counts; strokes of a thread chased by hand. */
export function keyed(bench: WithJob, part: Part, by: 1 | -1): Outcome {
  if (bench.job.setup.byHand) return strokeKeyed(bench, part, by);
  const { touchOff: touched, tracker } = bench.job.threads[part];
  if (!touched) return refuse(bench, { kind: 'missing', what: 'touch-off' });
  if (touched.board !== undefined) return refuse(bench, { kind: 'board-counts' });
  if (!tracker) return refuse(bench, { kind: 'missing', what: 'feed' });
  if (tracker.kind === 'void') return refuse(bench, { kind: 'depth-void', why: tracker.why });
  return keep(bench, { kind: 'feed-counted', part, mark: { total: tracker.count + by, at: bench.now } });
}

type Counted = Extract<LineEvent, { kind: 'feed-counted' }>;

/** How far a board's running time may be from what the clock makes of it: half a percent of oscillator, and some seconds. */
const uptimeSlack = (elapsed: number): number => 5000 + 0.005 * elapsed;

/** The part that a board is counting for, and its count: one at most, since touching off one sets the other aside. */
function countedBy(job: Job): { readonly part: Part; readonly count: number } | undefined {
  for (const part of PARTS) {
    const { tracker, touchOff } = job.threads[part];
    if (tracker?.kind === 'tracking' && touchOff?.board !== undefined) return { part, count: tracker.count };
  }
  return undefined;
}

/** Voids the depth that a board was counting. Nothing counted before is lost from the log. */
export function voided(bench: Bench, why: VoidReason): Outcome {
  const counting = bench.job && countedBy(bench.job);
  return counting ? keep(bench, { kind: 'depth-voided', part: counting.part, why }) : unchanged(bench);
}

/** Whether the count heard first after opening a job can follow on from the job's last mark: same board, running all the while. */
function breakSince({ log, wall }: Bench, board: string, at: Millis): VoidReason | null {
  const last = log.findLast(({ fact }) => 'mark' in fact);
  if (!last || !('mark' in last.fact)) return null;
  const { mark } = last.fact;
  if (mark.board !== board) return 'other-board';
  const elapsed = wall - last.at;
  const ran = at - mark.at;
  return ran < 0 || Math.abs(ran - elapsed) > uptimeSlack(Math.abs(elapsed)) ? 'restart' : null;
}

/** Detents that a hand turns in a second at most, and in one go between two lines: our own choice, far above any. */
const FASTEST = { perSecond: 100, atOnce: 20 } as const;

/** A jump that no hand makes, or a groove that no thread has: the count is wrong even though its line is sound. */
function isImpossible(bench: Bench, job: Job, part: Part, event: Counted): boolean {
  const { feed } = bench;
  const { tracker } = job.threads[part];
  if (tracker?.kind !== 'tracking') return false;
  const seconds = feed ? Math.max(0, event.at - feed.at) / 1000 : 0;
  const jumped =
    feed !== null && Math.abs(event.total - feed.total) > FASTEST.atOnce + FASTEST.perSecond * seconds;
  const depth = (event.total - tracker.touchedAt) * tracker.feed.perDetent;
  return jumped || depth > deepestGroove(job.setup);
}

/** A count from the board: remembered always, kept in the job while a part is touched off. */
export function feedCounted(bench: Bench, event: Counted): Outcome {
  const board = bench.line.board?.board ?? null;
  const feed = { total: event.total, board, at: event.at, heardAt: event.heardAt };
  const next = { ...bench, feed };
  const { job } = bench;
  if (!job || board === null) return unchanged(next);
  const seen = { ...next, feedSeen: true };
  const counting = countedBy(job);
  if (!counting) return unchanged(seen);
  const why = bench.feedSeen ? null : breakSince(bench, board, event.at);
  if (why) return voided(seen, why);
  const { part, count } = counting;
  if (job.closed || count === event.total) return unchanged(seen);
  if (isImpossible(bench, job, part, event)) return voided(seen, 'impossible');
  return keep(seen, { kind: 'feed-counted', part, mark: { total: event.total, board, at: event.at } });
}

export const fedRules = (part: Part): StageRules => ({
  entered: resetLive,
  onReading: ignoreReadings,
  keep: (bench) => keepThread(bench, part),
  again: (bench) => touchOff(bench, part),
  typed: (bench, text) => typed(bench, part, text),
});
