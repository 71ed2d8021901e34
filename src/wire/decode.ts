// What one line can be, and one line read: a checked message, a bare number, or a discard with its reason. Pure, and quick enough for a flood.
import type { ButtonName, Discard } from '../core/bench/event.ts';
import type { LengthUnit } from '../core/units.ts';
import { crc16OfLine } from './crc.ts';

/** The protocol version this program speaks. */
export const VERSION = '1';

interface Checked {
  /** 0 to 65535, one more for each line, then 0 again. */
  readonly seq: number;
  /** The board's milliseconds since its start, 32 bits, wrapping. */
  readonly ms: number;
  /** True where the line holds more than this program knows. */
  readonly more: boolean;
}

export type Message =
  | (Checked & {
      readonly kind: 'hello';
      readonly firmware: string;
      readonly board: string;
      readonly parts: readonly string[];
    })
  | (Checked & { readonly kind: 'other-version'; readonly version: string })
  | (Checked & {
      readonly kind: 'caliper';
      readonly text: string;
      /** What the text says, in its unit. */
      readonly value: number;
      readonly unit: LengthUnit;
    })
  | (Checked & { readonly kind: 'feed'; readonly total: number })
  | (Checked & { readonly kind: 'button'; readonly button: ButtonName; readonly down: boolean })
  | (Checked & { readonly kind: 'fault'; readonly code: string })
  | (Checked & { readonly kind: 'unknown' });

/** A bare number from a board that checks nothing; the unit is null where none was given. */
export interface Bare {
  readonly kind: 'bare';
  readonly text: string;
  readonly unit: LengthUnit | null;
}

/** A line that isn't read, and why. */
interface Discarded {
  readonly kind: 'discarded';
  readonly why: Discard;
}

export type Heard = Message | Bare | Discarded;

/** Bytes in the longest line, without its LF. */
export const LINE_AT_MOST = 95;

const STAR = 0x2a;
const SEQ_MOST = 0xffff;
const MS_MOST = 0xffffffff;
const TOTAL = /^-?\d{1,10}$/;
/** Needs a point or a unit: the end of a cut checked line may be four digits, but has neither. */
const BARE = /^ *([+-]?\d{1,5}(?:\.\d{1,5}|(?= *[mi"]))) *(mm|in|")? *$/i;

const discarded = (why: Discard): Discarded => ({ kind: 'discarded', why });
// One object for each reason, made once, so that a flood of noise makes no garbage.
const BAD_CHECKSUM = discarded('bad-checksum');
const BAD_FIELD = discarded('bad-field');
const BAD_BYTE = discarded('bad-byte');
const TOO_LONG = discarded('too-long');
const NOT_A_LINE = discarded('not-a-line');

/** The value of an upper-case hex digit; below zero for any other character. */
const hexDigit = (code: number): number => {
  if (code <= 0x39) return code - 0x30;
  return code >= 0x41 && code <= 0x46 ? code - 0x37 : -1;
};

/** The checksum at the end of a line: `*` and four upper-case hex digits. -1 where the line does not end like that. */
function checksumAtEnd(line: string): number {
  const star = line.length - 5;
  if (line.charCodeAt(star) !== STAR) return -1;
  let said = 0;
  for (let i = star + 1; i < line.length; i++) {
    const digit = hexDigit(line.charCodeAt(i));
    if (digit < 0) return -1;
    said = said * 16 + digit;
  }
  return said;
}

/** True where the line ends as a checked one does. */
export const looksChecked = (line: string): boolean => checksumAtEnd(line) !== -1;

/** True where the line was meant to be a checked one, whole or cut: bare numbers are then not accepted. */
export const meantChecked = (line: string): boolean => looksChecked(line) || /^[A-Z]{2},\d/.test(line);

/** The unsigned number from `start` to `end`, or -1 where it isn't a number or is above `most`. */
function unsigned(line: string, start: number, end: number, most: number): number {
  if (end <= start || end - start > 10) return -1;
  let value = 0;
  for (let i = start; i < end; i++) {
    const digit = line.charCodeAt(i) - 0x30;
    if (digit < 0 || digit > 9) return -1;
    value = value * 10 + digit;
  }
  return value <= most ? value : -1;
}

/** What a caliper shows, from `start` to `end`: a sign, one to five digits, and one to five after a point. NaN for anything else. */
function shown(line: string, start: number, end: number): number {
  const sign = line.charCodeAt(start);
  const first = sign === PLUS || sign === MINUS ? start + 1 : start;
  let digits = 0;
  let point = end;
  for (let i = first; i < end; i++) {
    const code = line.charCodeAt(i);
    if (code === POINT && point === end) point = i;
    else if (code >= 0x30 && code <= 0x39) digits = digits * 10 + code - 0x30;
    else return Number.NaN;
  }
  const decimals = Math.max(0, end - point - 1);
  const whole = point - first;
  if (whole < 1 || whole > 5 || decimals > 5 || (point < end && decimals === 0)) return Number.NaN;
  // Both are whole and exact, so the quotient is the number nearest to the text.
  const value = digits / (POWERS[decimals] ?? 1);
  return sign === MINUS ? -value : value;
}

const PLUS = 0x2b;
const MINUS = 0x2d;
const POINT = 0x2e;
const POWERS = [1, 10, 100, 1000, 10_000, 100_000];

const isPair = (line: string, start: number, end: number, first: number, second: number): boolean =>
  end - start === 2 && line.charCodeAt(start) === first && line.charCodeAt(start + 1) === second;

const unitOf = (line: string, start: number, end: number): LengthUnit | undefined =>
  isPair(line, start, end, 0x6d, 0x6d) ? 'mm' : isPair(line, start, end, 0x69, 0x6e) ? 'in' : undefined;

const buttonOf = (word: string): ButtonName | undefined =>
  word === '1' ? 1 : word === '2' ? 2 : word === '3' ? 3 : word === '4' ? 4 : undefined;

/** Reads what follows MS: from `start`, after its comma, to `end`. Undefined where a known field can't be read. */
type Build = (seq: number, ms: number, line: string, start: number, end: number) => Message | undefined;

const fieldsOf = (line: string, start: number, end: number): readonly string[] =>
  line.slice(start, end).split(',');

/** Where the fields of the current line end: kind, SEQ, MS and three more. */
const ends = new Int32Array(6);
const endOf = (field: number): number => ends[field] ?? 0;

// Nearly every line is one of these two, so they are read in place, without a list of fields.
const caliper: Build = (seq, ms, line, start, end) => {
  const [afterText, afterUnit] = [endOf(3), endOf(4)];
  const value = shown(line, start, afterText);
  const unit = unitOf(line, afterText + 1, afterUnit);
  if (!unit || Number.isNaN(value)) return undefined;
  const text = line.slice(start, afterText);
  return { kind: 'caliper', seq, ms, more: afterUnit < end, text, value, unit };
};

const feed: Build = (seq, ms, line, start, end) => {
  const text = line.slice(start, endOf(3));
  const total = TOTAL.test(text) ? Number(text) : Number.NaN;
  // The board counts detents in 32 bits, signed: it can't have sent a total that `| 0` changes.
  return total === (total | 0) ? { kind: 'feed', seq, ms, more: endOf(3) < end, total } : undefined;
};

const hello: Build = (seq, ms, line, start, end) => {
  const [version = '', firmware, board, parts, ...more] = fieldsOf(line, start, end);
  if (!/^\d{1,5}$/.test(version)) return undefined;
  if (version !== VERSION) return { kind: 'other-version', seq, ms, more: false, version };
  if (!firmware || !board || parts === undefined) return undefined;
  const present = parts === '' ? [] : parts.split('+');
  return { kind: 'hello', seq, ms, more: more.length > 0, firmware, board, parts: present };
};

const button: Build = (seq, ms, line, start, end) => {
  const [name, edge, ...more] = fieldsOf(line, start, end);
  const which = buttonOf(name ?? '');
  if (!which || (edge !== 'down' && edge !== 'up')) return undefined;
  return { kind: 'button', seq, ms, more: more.length > 0, button: which, down: edge === 'down' };
};

const fault: Build = (seq, ms, line, start, end) => {
  const [code, ...more] = fieldsOf(line, start, end);
  return code ? { kind: 'fault', seq, ms, more: more.length > 0, code } : undefined;
};

/** A kind of two capitals as one number. */
const kindAt = (line: string): number => (line.charCodeAt(0) << 8) | line.charCodeAt(1);
const BUILDERS: ReadonlyMap<number, Build> = new Map([
  [kindAt('HI'), hello],
  [kindAt('DI'), caliper],
  [kindAt('FE'), feed],
  [kindAt('PB'), button],
  [kindAt('FA'), fault],
]);

/** Known kinds have two capitals; a later board may use more. */
const KIND = /^[A-Z][A-Z0-9]{0,7}$/;

/** Reads the body, up to `end`, of a line with a correct checksum, whose fields' ends are known. */
function body(line: string, end: number): Message | Discarded {
  const [afterKind, afterSeq, afterMs] = [endOf(0), endOf(1), endOf(2)];
  const seq = unsigned(line, afterKind + 1, afterSeq, SEQ_MOST);
  const ms = unsigned(line, afterSeq + 1, afterMs, MS_MOST);
  if (seq < 0 || ms < 0) return BAD_FIELD;
  const build = afterKind === 2 ? BUILDERS.get(kindAt(line)) : undefined;
  if (build) return build(seq, ms, line, afterMs + 1, end) ?? BAD_FIELD;
  return KIND.test(line.slice(0, afterKind)) ? { kind: 'unknown', seq, ms, more: true } : BAD_FIELD;
}

function bareNumber(line: string): Bare | undefined {
  const match = BARE.exec(line);
  if (!match) return undefined;
  const word = match[2]?.toLowerCase();
  return {
    kind: 'bare',
    text: match[1] ?? '',
    unit: word === undefined ? null : word === 'mm' ? 'mm' : 'in',
  };
}

/**
 * What one line says. `line` is without its end, each character one byte. Never throws; whether a bare number is
 * accepted on this link is the watch's decision.
 */
export function decode(line: string): Heard {
  if (line.length > LINE_AT_MOST) return TOO_LONG;
  const said = checksumAtEnd(line);
  if (said < 0) return unchecked(line);
  const end = line.length - 5;
  const found = crc16OfLine(line, end, ends);
  if (found < 0) return BAD_BYTE;
  return found === said ? body(line, end) : BAD_CHECKSUM;
}

function unchecked(line: string): Heard {
  if (crc16OfLine(line, line.length, ends) < 0) return BAD_BYTE;
  return line.includes('*') ? BAD_CHECKSUM : (bareNumber(line) ?? NOT_A_LINE);
}
