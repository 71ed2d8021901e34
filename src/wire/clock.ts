// What SEQ and MS say: lines lost, a board restarted, a line repeated, and one time that only goes forward.
import { type Millis, millis } from '../core/units.ts';

const SEQ_COUNT = 0x10000;
const MS_COUNT = 0x100000000;
/** A wrap of MS is accepted when the board's time then agrees with the host's within this. */
const WRAP_SLACK = 10_000;
/** A board whose clock fell behind the host's by more than this, and by more than 2 %, was switched off in between. */
const BEHIND_SLACK = 10_000;
const BEHIND_SHARE = 0.02;

export interface Numbered {
  readonly kind: string;
  readonly seq: number;
  readonly ms: number;
}

export interface Timed {
  /** The board's milliseconds, continued over wraps and restarts; never goes back. */
  readonly at: Millis;
  readonly lost: number;
  readonly restarted: boolean;
  readonly repeated: boolean;
}

export interface BoardClock {
  /** Takes the next valid line's SEQ and MS, and when the host received it. */
  hear(line: Numbered, heardAt: Millis): Timed;
}

/**
 * Follows one board's counts. Three things count as a restart, since after each the feed total may be void:
 * MS went back other than by wrapping; SEQ went back (by serial number arithmetic, RFC 1982, or unchanged) in a HI, or in
 * any line when there was no time to lose that many; the board's clock fell far behind the host's, as it does when the
 * board was off while nobody listened. Lines lost by a restart are those since its own SEQ 0.
 */
export function createBoardClock(): BoardClock {
  let started = false;
  let seq = 0;
  let ms = 0;
  let base = 0;
  let heard = 0;

  const accept = (line: Numbered, heardAt: Millis, lost: number, restarted: boolean): Timed => {
    seq = line.seq;
    ms = line.ms;
    heard = heardAt;
    return { at: millis(base + ms), lost, restarted, repeated: false };
  };

  return {
    hear(line, heardAt) {
      if (!started) {
        started = true;
        return accept(line, heardAt, 0, false);
      }
      const elapsed = Math.max(0, heardAt - heard);
      if (line.seq === seq && line.ms === ms && elapsed < ms)
        return { at: millis(base + ms), lost: 0, restarted: false, repeated: true };

      const wrapped = line.ms + MS_COUNT - ms <= elapsed + WRAP_SLACK;
      const ran = line.ms - ms + (wrapped ? MS_COUNT : 0);
      const skipped = (line.seq - seq - 1 + SEQ_COUNT) % SEQ_COUNT;
      const enough = line.kind === 'hello' ? 0 : ran;
      if (ran < 0 || wentBack(skipped, enough) || fellBehind(ran, elapsed)) {
        base += ms + elapsed - line.ms;
        return accept(line, heardAt, line.seq, true);
      }
      if (wrapped) base += MS_COUNT;
      return accept(line, heardAt, skipped, false);
    },
  };
}

/** One line a millisecond is more than 115200 baud carries: more lines than milliseconds cannot have been lost. */
const wentBack = (skipped: number, ran: number): boolean => skipped >= SEQ_COUNT / 2 - 1 && skipped > ran;

const fellBehind = (ran: number, elapsed: number): boolean =>
  elapsed - ran > BEHIND_SLACK && elapsed - ran > elapsed * BEHIND_SHARE;
