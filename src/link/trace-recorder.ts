// The trace of a running link: rows are gathered while lines come in together, and written when the caller says so.
import { closeSync, openSync, writeSync } from 'node:fs';
import { type Millis, millis } from '../core/units.ts';
import { traceNote, traceRow } from '../wire/trace.ts';

export interface TraceRecorder {
  /** Takes one line as received, with the host's time; it is in the file after the next `flush`. */
  line(text: string, heardAt: Millis): void;
  note(text: string): void;
  /** Writes everything taken so far. Fails with the system's own error. */
  flush(): void;
  /** Writes everything taken so far, and closes the file. */
  close(): void;
}

/**
 * Starts a new trace, readable by its owner only. Fails where the file exists already (a trace is never overwritten)
 * or can't be written.
 */
export function openTraceRecorder(file: string, began: Millis): TraceRecorder {
  const fd = openSync(file, 'wx', 0o600);
  let open = true;
  let pending = '';
  const add = (row: string): void => {
    pending += `${row}\n`;
  };
  const flush = (): void => {
    let rest = Buffer.from(pending, 'latin1');
    pending = '';
    // A nearly full disk takes a part, and refuses only the next piece.
    while (open && rest.length > 0) rest = rest.subarray(writeSync(fd, rest));
  };
  add(traceNote('bench trace, version 1: milliseconds since it began, tab, line as received'));
  return {
    line: (text, heardAt) => add(traceRow(millis(heardAt - began), text)),
    note: (text) => add(traceNote(text)),
    flush,
    close() {
      flush();
      if (open) closeSync(fd);
      open = false;
    },
  };
}
