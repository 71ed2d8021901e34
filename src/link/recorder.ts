// The trace of a running link: rows are gathered while lines come in one piece, and written when the caller says so, at once.
import { closeSync, openSync, writeSync } from 'node:fs';
import { type Millis, millis } from '../core/units.ts';
import { traceNote, traceRow } from '../wire/trace.ts';

export interface Recorder {
  /** Takes one line as received, at its time since the trace began; it is in the file after the next `flush`. */
  line(text: string, heardAt: Millis): void;
  note(text: string): void;
  /** Writes what was taken. To be called as soon as a piece of lines has been heard. */
  flush(): void;
  /** Writes what was taken, and lets go of the file. */
  close(): void;
}

/**
 * Starts a new trace, readable by its owner only. Fails where the file exists already (a trace is never overwritten)
 * or cannot be written.
 */
export function openRecorder(file: string, began: Millis): Recorder {
  const fd = openSync(file, 'wx', 0o600);
  let open = true;
  let taken = '';
  const take = (row: string): void => {
    taken += `${row}\n`;
  };
  const flush = (): void => {
    const rows = taken;
    taken = '';
    if (open && rows !== '') writeSync(fd, rows, null, 'latin1');
  };
  take(traceNote('bench trace, version 1: milliseconds since it began, tab, line as received'));
  return {
    line: (text, heardAt) => take(traceRow(millis(heardAt - began), text)),
    note: (text) => take(traceNote(text)),
    flush,
    close() {
      flush();
      if (open) closeSync(fd);
      open = false;
    },
  };
}
