// Trace files: recorded from a running link, read as fast as possible, or played as a link in their own time for people to watch.
import { closeSync, createReadStream, openSync, writeSync } from 'node:fs';
import { TRACE_ENDED } from '../core/bench/line.ts';
import { type Millis, millis } from '../core/units.ts';
import {
  ROW_AT_MOST,
  type TraceFault,
  TraceReader,
  type TraceRow,
  traceNote,
  traceRow,
} from '../wire/trace.ts';
import { createLineCutter } from './lines.ts';
import { hostClock, type LinkListener } from './link.ts';

export type TraceRecorder = ReturnType<typeof openTraceRecorder>;

/**
 * Starts a new trace, readable by its owner only. Fails where the file exists already (a trace is never overwritten)
 * or can't be written.
 */
export function openTraceRecorder(file: string, began: Millis) {
  const fd = openSync(file, 'wx', 0o600);
  let open = true;
  let pending = '';
  const add = (row: string): void => {
    pending += `${row}\n`;
  };
  /** Writes everything taken so far. Fails with the system's own error. */
  const flush = (): void => {
    let rest = Buffer.from(pending, 'latin1');
    pending = '';
    // A nearly full disk takes a part, and refuses only the next piece.
    while (open && rest.length > 0) rest = rest.subarray(writeSync(fd, rest));
  };
  add(traceNote('bench trace, version 1: milliseconds since it began, tab, line as received'));
  return {
    /** Takes one line as received, with the host's time; it is in the file after the next `flush`. */
    line: (text: string, heardAt: Millis): void => add(traceRow(millis(heardAt - began), text)),
    note: (text: string): void => add(traceNote(text)),
    flush,
    /** Writes everything taken so far, and closes the file. */
    close(): void {
      flush();
      if (open) closeSync(fd);
      open = false;
    },
  };
}

interface TraceListener {
  row(row: TraceRow): void;
  fault(fault: TraceFault): void;
  /** Waited for after each piece of the file. */
  ready(): Promise<void>;
}

/** Reads a trace file of any length piece by piece. Fails with the system's own error where it can't be read. */
export async function readTraceFile(file: string, listener: TraceListener): Promise<void> {
  const reader = new TraceReader();
  const take = (text: string): void => {
    const found = reader.read(text);
    if (found === undefined) return;
    if ('why' in found) listener.fault(found);
    else listener.row(found);
  };
  const rows = createLineCutter(take, ROW_AT_MOST);
  for await (const bytes of createReadStream(file)) {
    rows.take(bytes);
    await listener.ready();
  }
  // The last row may lack its end in a file that was edited by hand.
  take(rows.tail().replace(/\r$/, ''));
}

/** How often a played trace moves on; finer than an eye sees. */
const BEAT = 15;

/**
 * Opening begins to play; every line carries the trace's own time, so that it says the same at any speed.
 * @param speed trace milliseconds that pass in one of the host's
 */
export function playTrace(
  name: string,
  rows: readonly TraceRow[],
  speed: number,
  hostNow: () => Millis = hostClock,
) {
  let listener: LinkListener | undefined;
  let beat: NodeJS.Timeout | undefined;
  let began = 0;
  let reached = millis(0);
  let next = 0;
  let ended = false;

  const end = (): void => {
    ended = true;
    const heardAt = rows.at(-1)?.at ?? millis(0);
    listener?.event({ kind: 'link-lost', port: name, why: TRACE_ENDED, heardAt });
  };

  const moveOn = (): void => {
    reached = millis(Math.floor((hostNow() - began) * speed));
    for (let row = rows[next]; row && row.at <= reached; row = rows[next]) {
      next += 1;
      listener?.line(row.line, row.at);
    }
    if (next === rows.length && !ended) end();
  };

  return {
    name,
    /** How far the trace has come in its own milliseconds: the clock of whoever watches it. It runs on after the end. */
    now: (): Millis => reached,
    open(watcher: LinkListener): void {
      listener = watcher;
      began = hostNow();
      listener.event({ kind: 'link-opened', port: name, heardAt: millis(0) });
      beat = setInterval(moveOn, BEAT);
    },
    ask: (): void => undefined,
    async close(): Promise<void> {
      clearInterval(beat);
      listener = undefined;
    },
  };
}
