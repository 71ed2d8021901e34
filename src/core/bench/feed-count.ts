// The feed's count while a thread is being cut: kept at each change from touch-off on, and voided when it can no longer be believed.
import type { VoidReason } from '../thread/feed.ts';
import { PARTS } from '../thread/pair.ts';
import type { Millis } from '../units.ts';
import type { LineEvent } from './event.ts';
import type { Job } from './job.ts';
import { keep, type Outcome, unchanged } from './outcome.ts';
import type { Part } from './setup.ts';
import type { Bench } from './state.ts';
import { deepestGroove } from './threads.ts';

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
