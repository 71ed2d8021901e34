// The trace of a running link, written row by row, so that what was heard before a power cut is in the file.
import { closeSync, openSync, writeSync } from 'node:fs';
import { type Millis, millis } from '../core/units.ts';
import { traceNote, traceRow } from '../wire/trace.ts';

export interface Recorder {
  /** Writes one line as received, at its time since the trace began. */
  line(text: string, heardAt: Millis): void;
  note(text: string): void;
  close(): void;
}

/**
 * Starts a new trace, readable by its owner only. Fails where the file exists already (a trace is never overwritten)
 * or cannot be written.
 */
export function openRecorder(file: string, began: Millis): Recorder {
  const fd = openSync(file, 'wx', 0o600);
  let open = true;
  const write = (row: string): void => {
    if (open) writeSync(fd, `${row}\n`, null, 'latin1');
  };
  write(traceNote('bench trace, version 1: milliseconds since it began, tab, line as received'));
  return {
    line: (text, heardAt) => write(traceRow(millis(heardAt - began), text)),
    note: (text) => write(traceNote(text)),
    close() {
      if (open) closeSync(fd);
      open = false;
    },
  };
}
