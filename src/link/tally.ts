// What a while of listening amounted to: who speaks, and how well. Pure counts over the wire's events.
import type { BoardFacts, LineEvent } from '../core/bench/event.ts';

export interface Tally {
  readonly board: BoardFacts | undefined;
  /** The protocol version that was refused, where one was. */
  readonly otherVersion: string | undefined;
  readonly readings: number;
  /** Readings of a board that checks nothing. */
  readonly unchecked: number;
  readonly lost: number;
  readonly discarded: number;
  readonly unknown: number;
  readonly restarts: number;
}

export const NOTHING_HEARD: Tally = {
  board: undefined,
  otherVersion: undefined,
  readings: 0,
  unchecked: 0,
  lost: 0,
  discarded: 0,
  unknown: 0,
  restarts: 0,
};

export function tally(so: Tally, event: LineEvent): Tally {
  switch (event.kind) {
    case 'board-found':
      return { ...so, board: event.facts };
    case 'version-refused':
      return { ...so, otherVersion: event.theirs };
    case 'reading-received':
      return { ...so, readings: so.readings + 1, unchecked: so.unchecked + (event.checked ? 0 : 1) };
    case 'lines-lost':
      return { ...so, lost: so.lost + event.count };
    case 'line-discarded':
      return { ...so, discarded: so.discarded + 1 };
    case 'line-unknown':
      return { ...so, unknown: so.unknown + 1 };
    case 'board-restarted':
      return { ...so, restarts: so.restarts + 1 };
    default:
      return so;
  }
}

/** True where something on the port made sense as a bench line. */
export const speaks = (heard: Tally): boolean =>
  heard.board !== undefined || heard.otherVersion !== undefined || heard.readings > 0;
