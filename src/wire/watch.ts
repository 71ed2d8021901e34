// Watches one line: counts gaps, notices restarts, wraps, repeats and silence. Deterministic; time is an input.
import type { Discard, LineEvent } from '../core/bench/event.ts';
import { stepOf } from '../core/measure/reading.ts';
import { forScreen } from '../core/safe-text.ts';
import { type LengthUnit, length, type Millis, millis } from '../core/units.ts';
import { type Bare, decode, type Message, meantChecked, VERSION } from './decode.ts';

/** No valid line for this long is silence. */
const SILENT_AFTER: Millis = millis(2000);

/** Fault codes this program knows; any other is passed on and counted as unknown. */
const KNOWN_FAULTS = new Set([
  'caliper-frame',
  'caliper-silent',
  'caliper-back',
  'caliper-noise',
  'caliper-data',
  'feed-overrun',
  'feed-windows',
  'brownout',
  'watchdog',
]);

export type Emit = (event: LineEvent) => void;

/**
 * Watches one line. Its rules, where protocol.md leaves a choice:
 * a bare number is read only while nothing on this line has looked like the checked protocol;
 * after a HI with another version, nothing is read as a measurement until a HI with version 1;
 * an immediate repeat of a line (same SEQ and MS, sooner than a restarted board could send it) is dropped and counted;
 * silence is dated two seconds after the last valid line, however late it is noticed, so that a replay gives the same.
 */
export class Watch {
  readonly #bareUnit: LengthUnit;
  readonly #clock = new BoardClock();
  /** Whether anything on this line looked like the checked protocol. */
  #checked = false;
  #refused = false;
  #lastValid: Millis | undefined;
  #silent = true;
  #silenceSaid = false;

  /** @param bareUnit what a bare number without a unit means */
  constructor(bareUnit: LengthUnit = 'mm') {
    this.#bareUnit = bareUnit;
  }

  /** A line as received without its end, and when the host received it (monotonic, or the trace's). */
  push(line: string, heardAt: Millis, emit: Emit): void {
    this.tick(heardAt, emit);
    const heard = decode(line);
    if (heard.kind === 'discarded') {
      this.#checked ||= meantChecked(line);
      discard(heard.why, line, heardAt, emit);
    } else if (heard.kind === 'bare') this.#bare(heard, line, heardAt, emit);
    else this.#message(heard, line, heardAt, emit);
  }

  /** Time has passed: the only way silence is noticed while it lasts. */
  tick(now: Millis, emit: Emit): void {
    this.#lastValid ??= now;
    if (this.#silenceSaid || now - this.#lastValid < SILENT_AFTER) return;
    this.#silent = true;
    this.#silenceSaid = true;
    emit({ kind: 'line-silent', heardAt: millis(this.#lastValid + SILENT_AFTER) });
  }

  /** What was left without an end when the port closed: counted, never read. */
  unfinished(tail: string, heardAt: Millis, emit: Emit): void {
    if (tail !== '') discard('unfinished', tail, heardAt, emit);
  }

  #valid(heardAt: Millis, emit: Emit): void {
    this.#lastValid = heardAt;
    if (!this.#silent) return;
    this.#silent = false;
    this.#silenceSaid = false;
    emit({ kind: 'line-speaking', heardAt });
  }

  #bare(heard: Bare, raw: string, heardAt: Millis, emit: Emit): void {
    if (this.#checked) {
      discard('not-a-line', raw, heardAt, emit);
      return;
    }
    this.#valid(heardAt, emit);
    const unit = heard.unit ?? this.#bareUnit;
    emit(readingOf(heard.text, Number(heard.text), unit, heardAt, false, raw, heardAt));
  }

  #message(heard: Message, raw: string, heardAt: Millis, emit: Emit): void {
    this.#checked = true;
    const timed = this.#clock.hear(heard, heardAt);
    this.#valid(heardAt, emit);
    if (timed?.restarted) emit({ kind: 'board-restarted', heardAt });
    if (timed && timed.lost > 0) emit({ kind: 'lines-lost', count: timed.lost, heardAt });
    if (!timed) discard('repeated', raw, heardAt, emit);
    else if (!this.#speaksOurVersion(heard)) discard('wrong-version', raw, heardAt, emit);
    else {
      const meaning = meaningOf(heard, timed.at, raw, heardAt);
      if (meaning) emit(meaning);
      if (saysMore(heard)) emit({ kind: 'line-unknown', raw, heardAt });
    }
  }

  /** After another version, only a HI with version 1 opens the line again; the refusal itself is always passed on. */
  #speaksOurVersion(heard: Message): boolean {
    if (heard.kind === 'hello') this.#refused = false;
    if (heard.kind === 'other-version') this.#refused = true;
    return !this.#refused || heard.kind === 'other-version';
  }
}

const discard = (why: Discard, line: string, heardAt: Millis, emit: Emit): void =>
  emit({ kind: 'line-discarded', why, raw: forScreen(line), heardAt });

function readingOf(
  text: string,
  shown: number,
  unit: LengthUnit,
  at: Millis,
  checked: boolean,
  raw: string,
  heardAt: Millis,
): LineEvent {
  const reading = { value: length(shown, unit), unit, step: stepOf(text, unit), text, at };
  return { kind: 'reading-received', reading, checked, raw, heardAt };
}

/** The event that a message is, apart from what its SEQ and MS say; undefined for an unknown kind. */
function meaningOf(heard: Message, at: Millis, raw: string, heardAt: Millis): LineEvent | undefined {
  switch (heard.kind) {
    case 'hello': {
      const { board, firmware, parts } = heard;
      return { kind: 'board-found', facts: { board, firmware, parts }, at, heardAt };
    }
    case 'other-version':
      return { kind: 'version-refused', theirs: heard.version, ours: VERSION, heardAt };
    case 'caliper':
      return readingOf(heard.text, heard.value, heard.unit, at, true, raw, heardAt);
    case 'feed':
      return { kind: 'feed-counted', total: heard.total, at, raw, heardAt };
    case 'button':
      return { kind: 'button-changed', button: heard.button, down: heard.down, heardAt };
    case 'fault':
      if (heard.code === 'feed-overrun') return { kind: 'feed-overran', heardAt };
      return { kind: 'board-fault', code: heard.code, heardAt };
    case 'unknown':
      return undefined;
    default:
      return heard satisfies never;
  }
}

const saysMore = (heard: Message): boolean =>
  heard.more || (heard.kind === 'fault' && !KNOWN_FAULTS.has(heard.code));

const SEQ_COUNT = 0x10000;
const MS_COUNT = 0x100000000;
/** A wrap of MS is accepted when the board's time then agrees with the host's within this. */
const WRAP_SLACK = 10_000;
/** A board whose clock fell behind the host's by more than this, and by more than 2 %, was switched off in between. */
const BEHIND_SLACK = 10_000;
const BEHIND_SHARE = 0.02;

/** What a line's SEQ and MS say. */
interface Timed {
  /** The board's milliseconds, continued over wraps and restarts; never goes back. */
  readonly at: Millis;
  readonly lost: number;
  readonly restarted: boolean;
}

/**
 * Follows one board's counts. Three things count as a restart, since after each the feed total may be void:
 * MS went back other than by wrapping; SEQ went back (by serial number arithmetic, RFC 1982, or unchanged) in a HI, or in
 * any line when there was no time to lose that many; the board's clock fell far behind the host's, as it does when the
 * board was off while nobody listened. Lines lost by a restart are those since its own SEQ 0.
 */
class BoardClock {
  #last: Message | undefined;
  #heardAt = 0;
  #base = 0;

  /** Takes the next valid line, and when the host received it; undefined for a line sent twice. */
  hear(line: Message, heardAt: Millis): Timed | undefined {
    const last = this.#last;
    const elapsed = Math.max(0, heardAt - this.#heardAt);
    if (line.seq === last?.seq && line.ms === last.ms && elapsed < line.ms) return undefined;
    this.#last = line;
    this.#heardAt = heardAt;
    if (!last) return { at: millis(line.ms), lost: 0, restarted: false };

    const wrapped = line.ms + MS_COUNT - last.ms <= elapsed + WRAP_SLACK;
    const ran = line.ms - last.ms + (wrapped ? MS_COUNT : 0);
    const skipped = (line.seq - last.seq - 1 + SEQ_COUNT) % SEQ_COUNT;
    const enough = line.kind === 'hello' ? 0 : ran;
    const restarted = ran < 0 || wentBack(skipped, enough) || fellBehind(ran, elapsed);
    if (restarted) this.#base += last.ms + elapsed - line.ms;
    else if (wrapped) this.#base += MS_COUNT;
    return { at: millis(this.#base + line.ms), lost: restarted ? line.seq : skipped, restarted };
  }
}

/** One line a millisecond is more than 115200 baud carries: more lines than milliseconds cannot have been lost. */
const wentBack = (skipped: number, ran: number): boolean => skipped >= SEQ_COUNT / 2 - 1 && skipped > ran;

const fellBehind = (ran: number, elapsed: number): boolean =>
  elapsed - ran > BEHIND_SLACK && elapsed - ran > elapsed * BEHIND_SHARE;
