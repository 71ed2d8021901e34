// How the line is: what line and link events do to the health the turner sees.
import type { Stage } from './entry.ts';
import type { BenchEvent, LineEvent, LinkEvent } from './event.ts';
import { type Bench, type LineHealth, STALE_AFTER } from './state.ts';

/** Readings younger than this make the shown rate. */
const RATE_OVER_MS = 2000;

/** Why the line of a replay is lost at its end; no port is at fault. */
export const TRACE_ENDED = 'the trace has ended';

export const quietLine: LineHealth = {
  port: null,
  open: false,
  trouble: null,
  silent: false,
  checked: null,
  board: null,
  versionRefused: null,
  lost: 0,
  damaged: 0,
  unknown: 0,
  restarts: 0,
  recent: [],
};

/** Readings a second over the last two seconds; 0 when none came. */
export function rateOf(line: LineHealth, now: number): number {
  const young = line.recent.filter((at) => now - at < RATE_OVER_MS);
  const first = young[0];
  const last = young.at(-1);
  if (first === undefined || last === undefined || last <= first) return 0;
  return ((young.length - 1) * 1000) / (last - first);
}

export function lineAfter(line: LineHealth, event: LineEvent | LinkEvent): LineHealth {
  switch (event.kind) {
    case 'reading-received': {
      const recent = [...line.recent.slice(-49), event.heardAt];
      return { ...line, recent, checked: event.checked, silent: false };
    }
    case 'feed-counted':
      return line.silent ? { ...line, silent: false } : line;
    case 'board-found':
      return { ...line, board: event.facts, checked: true, silent: false, versionRefused: null };
    case 'board-restarted':
      return { ...line, restarts: line.restarts + 1 };
    case 'lines-lost':
      return { ...line, lost: line.lost + event.count };
    case 'line-discarded':
      return { ...line, damaged: line.damaged + 1 };
    case 'line-unknown':
      return { ...line, unknown: line.unknown + 1 };
    case 'version-refused':
      return { ...line, versionRefused: { theirs: event.theirs, ours: event.ours } };
    case 'line-silent':
      return { ...line, silent: true };
    case 'line-speaking':
      return { ...line, silent: false };
    case 'link-opened':
      return { ...line, port: event.port, open: true, trouble: null };
    case 'link-lost':
    case 'link-refused':
      return { ...line, port: event.port, open: false, trouble: event.why, versionRefused: null };
    case 'button-changed':
    case 'feed-overran':
    case 'board-fault':
      return line;
    default:
      return event satisfies never;
  }
}

/** What was read last can no longer be what the jaws show: nothing came for two seconds, or the port is gone. */
export const isStale = ({ line, live, now }: Pick<Bench, 'line' | 'live' | 'now'>): boolean =>
  live !== null && (line.silent || (line.port !== null && !line.open) || now - live.heardAt > STALE_AFTER);

const WITH_CALIPER: ReadonlySet<Stage> = new Set(['zero', 'hollow', 'bore size', 'spigot']);

/** Whether the bench waits for readings: it is at a stage that measures. Elsewhere the caliper may be idle. */
export const wantsReadings = ({ mode, job }: Pick<Bench, 'mode' | 'job'>): boolean =>
  mode.kind === 'practice' ||
  (mode.kind === 'stage' && job !== null && job.closed === null && WITH_CALIPER.has(job.stage));

/** Only what came by the line or the link was heard. */
export const isFromLine = (event: BenchEvent): event is LineEvent | LinkEvent => 'heardAt' in event;
