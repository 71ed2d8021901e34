// The feed's count while a thread is being cut: kept at each change from touch-off on, and voided when it can no longer be believed.

import type { VoidReason } from '../thread/feed.ts';
import type { Millis } from '../units.ts';
import type { FeedMark } from './entry.ts';
import type { LineEvent } from './event.ts';
import { kept, type Outcome, unchanged } from './outcome.ts';
import type { Part } from './setup.ts';
import type { WithJob } from './stages/rules.ts';
import type { Bench } from './state.ts';

type Counted = Extract<LineEvent, { kind: 'feed-counted' }>;

/** How far a board's running time may be from what the clock makes of it: half a percent of oscillator, and some seconds. */
const uptimeSlack = (elapsed: number): number => 5000 + 0.005 * elapsed;

const PARTS: readonly Part[] = ['female', 'male'];
/** The part that a board is counting for: one at most, since touching off one sets the other aside. */
const countedPart = ({ job }: Bench): Part | undefined =>
  PARTS.find((part) => {
    const { tracker, touchOff } = job?.threads[part] ?? {};
    return tracker?.kind === 'tracking' && touchOff?.board !== undefined;
  });

/** Voids the depth that a board was counting. Nothing counted before is lost from the log. */
export function voided(bench: Bench, why: VoidReason): Outcome {
  const part = countedPart(bench);
  return part ? kept(bench, { kind: 'depth-voided', part, why }) : unchanged(bench);
}

/** The last mark of a part that a board gave, with the wall clock when it was written. */
function lastMark(
  bench: WithJob,
  part: Part,
): { readonly mark: FeedMark; readonly wall: number } | undefined {
  const entry = bench.log.findLast(
    ({ fact }) => (fact.kind === 'feed-counted' || fact.kind === 'touched-off') && fact.part === part,
  );
  return entry && 'mark' in entry.fact ? { mark: entry.fact.mark, wall: entry.at } : undefined;
}

/** Whether the count heard first after opening a job can follow on from the job's last mark: same board, running all the while. */
function breakSince(bench: WithJob, part: Part, board: string, at: Millis): VoidReason | null {
  const last = lastMark(bench, part);
  if (!last) return null;
  if (last.mark.board !== board) return 'other-board';
  const elapsed = bench.wall - last.wall;
  const ran = at - last.mark.at;
  return ran < 0 || Math.abs(ran - elapsed) > uptimeSlack(Math.abs(elapsed)) ? 'restart' : null;
}

/** A count from the board: remembered always, kept in the job while a part is touched off. */
export function feedCounted(bench: Bench, event: Counted): Outcome {
  const board = bench.line.board?.board ?? null;
  const feed = { total: event.total, board, at: event.at, heardAt: event.heardAt };
  const next = { ...bench, feed };
  const { job } = bench;
  if (!job || board === null) return unchanged(next);
  const seen = { ...next, job, feedSeen: true };
  const part = countedPart(next);
  const why = part && !bench.feedSeen ? breakSince(seen, part, board, event.at) : null;
  return why ? voided(seen, why) : counted(seen, event, board);
}

function counted(bench: Bench, event: Counted, board: string): Outcome {
  const { job } = bench;
  const part = countedPart(bench);
  if (!part || job?.closed) return unchanged(bench);
  const { tracker } = job?.threads[part] ?? {};
  if (tracker?.kind !== 'tracking' || tracker.count === event.total) return unchanged(bench);
  return kept(bench, { kind: 'feed-counted', part, mark: { total: event.total, board, at: event.at } });
}
