// What the program owes each line: counts gaps, sees restarts, wraps, repeats and silence. Deterministic; time is an input.
import type { Discard, LineEvent } from '../core/bench/event.ts';
import { stepOf } from '../core/measure/reading.ts';
import { forScreen } from '../core/safe-text.ts';
import { type LengthUnit, length, type Millis, millis } from '../core/units.ts';
import { createBoardClock } from './clock.ts';
import { type Bare, decode, type Message, meantChecked, VERSION } from './decode.ts';

/** No valid line for this long is silence. */
export const SILENT_AFTER: Millis = millis(2000);

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

export interface Watch {
  /** A line as received without its end, and when the host received it (monotonic, or the trace's). */
  push(line: string, heardAt: Millis, emit: Emit): void;
  /** Time has passed: the only way silence is noticed while it lasts. */
  tick(now: Millis, emit: Emit): void;
  /** What was left without an end when the port closed: counted, never read. */
  unfinished(tail: string, heardAt: Millis, emit: Emit): void;
}

export interface WatchSettings {
  /** What a bare number without a unit means; millimetres by default. */
  readonly bareUnit?: LengthUnit;
}

/**
 * Watches one line. Its rules, where protocol.md leaves a choice:
 * a bare number is read only while nothing on this line has looked like the checked protocol;
 * after a HI with another version, nothing is read as a measurement until a HI with version 1;
 * an immediate repeat of a line (same SEQ and MS, sooner than a restarted board could send it) is dropped and counted;
 * silence is dated two seconds after the last valid line, however late it is noticed, so that a replay gives the same.
 */
export const createWatch = (settings: WatchSettings = {}): Watch => new LineWatch(settings.bareUnit ?? 'mm');

class LineWatch implements Watch {
  readonly #bareUnit: LengthUnit;
  readonly #clock = createBoardClock();
  /** Whether anything on this line looked like the checked protocol. */
  #checked = false;
  #refused = false;
  #lastValid: Millis | undefined;
  #silent = true;
  #silenceSaid = false;

  constructor(bareUnit: LengthUnit) {
    this.#bareUnit = bareUnit;
  }

  push(line: string, heardAt: Millis, emit: Emit): void {
    this.tick(heardAt, emit);
    const heard = decode(line);
    if (heard.kind === 'discarded') {
      this.#checked ||= meantChecked(line);
      discard(heard.why, line, heardAt, emit);
    } else if (heard.kind === 'bare') this.#bare(heard, line, heardAt, emit);
    else this.#message(heard, line, heardAt, emit);
  }

  tick(now: Millis, emit: Emit): void {
    this.#lastValid ??= now;
    if (this.#silenceSaid || now - this.#lastValid < SILENT_AFTER) return;
    this.#silent = true;
    this.#silenceSaid = true;
    emit({ kind: 'line-silent', heardAt: millis(this.#lastValid + SILENT_AFTER) });
  }

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
    if (timed.restarted) emit({ kind: 'board-restarted', heardAt });
    if (timed.lost > 0) emit({ kind: 'lines-lost', count: timed.lost, heardAt });
    if (timed.repeated) discard('repeated', raw, heardAt, emit);
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
