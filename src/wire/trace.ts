// Trace files: every received line with its time, as plain text that gives the same events wherever it is replayed.
import { type Millis, millis } from '../core/units.ts';

export interface TraceRow {
  /** Milliseconds since the trace began. */
  readonly at: Millis;
  /** The line as received, each character one byte. */
  readonly line: string;
}

/** A row that can't be read; it is left out, the others are used. */
export interface TraceFault {
  /** Counted from 1, notes included. */
  readonly row: number;
  readonly why: string;
}

/** Characters in the longest row: no line is so long that it needs more, with every byte escaped. */
export const ROW_AT_MOST = 512;
const TIME = /^\d{1,15}(\.\d{1,6})?$/;

const escaped = (line: string): string =>
  line.replace(
    /[^\x20-\x5b\x5d-\x7e]/g,
    (byte) => `\\x${(byte.charCodeAt(0) & 0xff).toString(16).toUpperCase().padStart(2, '0')}`,
  );

/** One row without its LF: `HOSTMS<TAB>LINE`, what is not printable ASCII and the backslash as `\xHH`. */
export const traceRow = (at: Millis, line: string): string => `${at}\t${escaped(line)}`;

/** A note, which a replay ignores. */
export const traceNote = (text: string): string => `# ${escaped(text)}`;

/** The line that was escaped, or undefined where a backslash is not followed by `x` and two hex digits. */
function unescaped(text: string): string | undefined {
  if (/[^\x20-\x7e]/.test(text) || /\\(?!x[0-9A-Fa-f]{2})/.test(text)) return undefined;
  return text.replace(/\\x([0-9A-Fa-f]{2})/g, (_, hex: string) =>
    String.fromCharCode(Number.parseInt(hex, 16)),
  );
}

function readRow(row: string, previous: Millis): TraceRow | string {
  if (row.length > ROW_AT_MOST) return `longer than ${ROW_AT_MOST} characters`;
  const tab = row.indexOf('\t');
  if (tab < 0) return 'no tab between the time and the line';
  if (!TIME.test(row.slice(0, tab))) return 'the time is not a count of milliseconds';
  const at = millis(Number(row.slice(0, tab)));
  if (at < previous) return 'its time is before the row above';
  const line = unescaped(row.slice(tab + 1));
  return line === undefined ? 'a byte outside printable ASCII, or a backslash without \\xHH' : { at, line };
}

/** Reads a trace row by row, so that a damaged file still gives what is whole in it. */
export class TraceReader {
  #count = 0;
  #previous = millis(0);

  /** Reads the next row, given without its end: a received line, a fault, or undefined for a note or an empty row. Never throws. */
  read(row: string): TraceRow | TraceFault | undefined {
    this.#count += 1;
    if (row === '' || row.startsWith('#')) return undefined;
    const found = readRow(row, this.#previous);
    if (typeof found === 'string') return { row: this.#count, why: found };
    this.#previous = found.at;
    return found;
  }
}
