// What a while of listening added up to: which board speaks, and how well. Pure counts over the wire's events.
import type { BoardFacts, LineEvent } from '../core/bench/event.ts';

export interface LineStats {
  readonly board: BoardFacts | undefined;
  /** The protocol version that was refused, where one was. */
  readonly otherVersion: string | undefined;
  readonly readings: number;
  /** Readings of a board that sends no checksums. */
  readonly unchecked: number;
  readonly lost: number;
  readonly discarded: number;
  readonly unknown: number;
  readonly restarts: number;
}

export const NOTHING_HEARD: LineStats = {
  board: undefined,
  otherVersion: undefined,
  readings: 0,
  unchecked: 0,
  lost: 0,
  discarded: 0,
  unknown: 0,
  restarts: 0,
};

export function addToStats(stats: LineStats, event: LineEvent): LineStats {
  switch (event.kind) {
    case 'board-found':
      return { ...stats, board: event.facts };
    case 'version-refused':
      return { ...stats, otherVersion: event.theirs };
    case 'reading-received':
      return {
        ...stats,
        readings: stats.readings + 1,
        unchecked: stats.unchecked + (event.checked ? 0 : 1),
      };
    case 'lines-lost':
      return { ...stats, lost: stats.lost + event.count };
    case 'line-discarded':
      return { ...stats, discarded: stats.discarded + 1 };
    case 'line-unknown':
      return { ...stats, unknown: stats.unknown + 1 };
    case 'board-restarted':
      return { ...stats, restarts: stats.restarts + 1 };
    default:
      return stats;
  }
}

/** True where something on the port made sense as a bench line. */
export const isBenchLine = (stats: LineStats): boolean =>
  stats.board !== undefined || stats.otherVersion !== undefined || stats.readings > 0;
