// A recorded trace as a link: the same lines at the times they carry, as fast as they can be read.
import { readFile } from 'node:fs/promises';
import { millis } from '../core/units.ts';
import { readTrace, type Trace } from '../wire/trace.ts';
import type { Link, LinkListener } from './link.ts';

/** Reads a trace file; its bytes are kept one to one. Fails with the system's own error where it cannot be read. */
export const loadTrace = async (file: string): Promise<Trace> => readTrace(await readFile(file, 'latin1'));

/** Hands every row to the listener at once. All its times are the trace's own, so it says the same at any speed. */
export function playTrace(name: string, trace: Trace, listener: LinkListener): void {
  const last = trace.rows.at(-1)?.at ?? millis(0);
  listener.event({ kind: 'link-opened', port: name, heardAt: millis(0) });
  for (const row of trace.rows) listener.line(row.line, row.at);
  listener.event({ kind: 'link-lost', port: name, why: 'the trace has ended', heardAt: last });
}

/** A link over a trace: opening plays it to its end before returning; there is nobody to ask. */
export const createTraceLink = (name: string, trace: Trace): Link => ({
  name,
  open: (listener) => playTrace(name, trace, listener),
  ask: () => undefined,
  close: async () => undefined,
});
