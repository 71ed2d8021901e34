// `lidwright jobs export`: every job or some of them, as NDJSON or the readings as CSV, to a file or to stdout.
import { closeSync, openSync, rmSync, writeSync } from 'node:fs';
import { resolve } from 'node:path';
import { counted } from '../../core/figures.ts';
import { forFile } from '../../core/safe-text.ts';
import { exportJobs, exportReadings, type Sink } from '../../records/export.ts';
import type { Records } from '../../records/jobs.ts';
import type { Kept } from '../../records/trouble.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { findJob } from '../find-job.ts';
import { orReport, progressOf, safeMessage, withRecords } from '../open-records.ts';
import { endWith } from '../output.ts';

/** Text gathered before it is written: a system call per line would take most of the time. */
const TOGETHER = 256 * 1024;

/** The file couldn't be written: not to be mixed up with trouble in the database that is being read. */
class FileFailed extends Error {}

/** Lines into a file descriptor; CSV rows end as RFC 4180 has them. */
function linesInto(file: number, ending: string): { readonly sink: Sink; end(): void } {
  let text = '';
  const flush = (): void => {
    try {
      for (let bytes = Buffer.from(text); bytes.length > 0; ) bytes = bytes.subarray(writeSync(file, bytes));
    } catch (error) {
      throw new FileFailed(error instanceof Error ? error.message : String(error));
    }
    text = '';
  };
  return {
    sink: (line) => {
      text += forFile(line) + ending;
      if (text.length > TOGETHER) flush();
    },
    end: flush,
  };
}

/** Exports, and says what. */
function exported(
  records: Records,
  csv: boolean,
  sink: Sink,
  only: readonly string[] | undefined,
): Kept<string> {
  if (csv) {
    const count = exportReadings(records, sink, only);
    return count.ok ? { ok: true, value: counted(count.value, 'reading') } : count;
  }
  const counts = exportJobs(records, sink, only);
  if (!counts.ok) return counts;
  const { jobs, entries, readings } = counts.value;
  const rows = [counted(entries, 'entry', 'entries'), counted(readings, 'reading')];
  return { ok: true, value: [counted(jobs, 'job'), ...rows].join(', ') };
}

/** The same sink, counting: it reports how far it is when it takes longer than a second. */
function watched(sink: Sink, output: Output): Sink {
  const said = progressOf(output, (lines, rate) => `${lines} rows written, ${rate} a second`);
  let lines = 0;
  return (line) => {
    sink(line);
    lines += 1;
    if (lines % 1000 === 0) said(lines);
  };
}

function toFile(path: string, output: Output, work: (file: number) => ExitCode | Promise<ExitCode>) {
  let file: number;
  try {
    file = openSync(path, 'wx', 0o600);
  } catch (error) {
    const taken = error instanceof Error && 'code' in error && error.code === 'EEXIST';
    const why = taken ? 'a file of that name already exists' : "can't be written there";
    const unwritten = `jobs: ${safeMessage(path)}: ${why}. Nothing was exported. Enter another name.`;
    return endWith(output, 3, unwritten);
  }
  try {
    return work(file);
  } finally {
    closeSync(file);
  }
}

function run(records: Records, typed: Typed, output: Output): ExitCode | Promise<ExitCode> {
  const words: readonly string[] = Array.isArray(typed.args[0]) ? typed.args[0] : [];
  const found = words.map((wanted) => findJob(records, wanted));
  const unclear = found.find((each) => !each.ok);
  if (unclear) return endWith(output, unclear.code, ...unclear.lines, 'Nothing was exported.');
  const only = words.length > 0 ? found.flatMap((each) => (each.ok ? [each.job.id] : [])) : undefined;
  const csv = typed.options.csv === true;
  if (typeof typed.options.file !== 'string')
    return orReport(
      exported(records, csv, (line) => output.data(csv ? `${line}\r` : line), only),
      output,
      () => 0,
    );
  const path = resolve(typed.options.file);
  return toFile(path, output, (file) => {
    const lines = linesInto(file, csv ? '\r\n' : '\n');
    try {
      const done = exported(records, csv, watched(lines.sink, output), only);
      if (!done.ok) rmSync(path, { force: true });
      return orReport(done, output, (said) => {
        lines.end();
        return endWith(output, 0, `jobs: ${said} exported to ${safeMessage(path)}.`);
      });
    } catch (error) {
      rmSync(path, { force: true });
      if (!(error instanceof FileFailed)) throw error;
      // Half an export would pass for a whole one, so it doesn't stay.
      const halfWritten = `jobs: ${safeMessage(path)} couldn't be written to its end (${safeMessage(error.message)}), so it was removed. Free some space, or choose another place.`;
      return endWith(output, 3, halfWritten);
    }
  });
}

export const runExport = (typed: Typed, output: Output): Promise<ExitCode> =>
  withRecords(output, 'jobs', (records) => run(records, typed, output));
