// `lidwright jobs import`: merges an export from this bench or another one; what is already here stays unchanged.
import { createReadStream, statSync } from 'node:fs';
import { counted } from '../../core/figures.ts';
import { type ImportReport, importJobs } from '../../records/import.ts';
import type { Records } from '../../records/jobs.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { progressOf, reportTrouble, safeMessage, withRecords } from '../open-records.ts';
import { answer, endWith } from '../output.ts';

/** Bytes read and written in one transaction. */
const CHUNK = 1024 * 1024;

const rows = ({ entries, readings }: { readonly entries: number; readonly readings: number }): string =>
  `${counted(entries, 'entry', 'entries')} and ${counted(readings, 'reading')}`;

function reportLines(report: ImportReport): readonly string[] {
  const { entries, readings, jobsTouched, jobsWithoutBeginning } = report;
  const known = { entries: entries.known, readings: readings.known };
  return [
    `Added: ${rows({ entries: entries.added, readings: readings.added })}, in ${counted(jobsTouched, 'job')}.`,
    ...(entries.known + readings.known > 0 ? [`Already here, left unchanged: ${rows(known)}.`] : []),
    ...(jobsWithoutBeginning > 0
      ? [`Kept, but not listed until their start is imported: ${counted(jobsWithoutBeginning, 'job')}.`]
      : []),
  ];
}

function refusalLines(report: ImportReport): readonly string[] {
  const { refused, firstRefused, stopped, entries, readings } = report;
  const kept = `Added and kept: ${counted(entries.added + readings.added, 'row')}`;
  const shown = firstRefused.map(({ line, reason }) => `line ${line}: ${safeMessage(reason)}`);
  if (stopped !== null) return [...shown.slice(-1), `The rest of the file wasn't read. ${kept}.`];
  const more = refused > shown.length ? [`and ${counted(refused - shown.length, 'more line')}`] : [];
  const todo = 'Fix those lines and import the file again: nothing is added twice.';
  return [...shown, ...more, `Refused: ${counted(refused, 'row')}. ${kept}. ${todo}`];
}

/** Standard input for `-`, else the file, in large pieces. */
const chunksOf = (path: string): AsyncIterable<Uint8Array> =>
  path === '-' ? process.stdin : createReadStream(path, { highWaterMark: CHUNK });

function unreadable(path: string): string | undefined {
  if (path === '-') return undefined;
  const found = statSync(path, { throwIfNoEntry: false });
  if (!found) return 'no such file';
  return found.isDirectory() ? 'that is a folder' : undefined;
}

function finish(report: ImportReport, typed: Typed, output: Output): ExitCode {
  answer(typed, output, { kind: 'imported', v: 1, ...report }, reportLines(report));
  if (report.lines === 0) output.message('jobs: the file is empty. Nothing was added.');
  if (report.refused > 0) for (const line of refusalLines(report)) output.message(`jobs: ${line}`);
  return report.refused > 0 || report.lines === 0 ? 1 : 0;
}

async function run(records: Records, typed: Typed, output: Output): Promise<ExitCode> {
  const path = String(typed.args[0] ?? '');
  const wrong = unreadable(path);
  if (wrong !== undefined)
    return endWith(output, 3, `jobs: ${safeMessage(path)}: ${wrong}. Nothing was added.`);
  try {
    const said = progressOf(output, (lines, rate) => `${lines} rows read, ${rate} a second`);
    const report = await importJobs(records, chunksOf(path), said);
    return report.ok ? finish(report.value, typed, output) : reportTrouble(report.trouble, output, 'jobs');
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error;
    const unread = `jobs: ${safeMessage(path)} couldn't be read to its end (${safeMessage(error.message)}). What was added is kept. Import it again.`;
    return endWith(output, 3, unread);
  }
}

export const runImport = (typed: Typed, output: Output): Promise<ExitCode> =>
  withRecords(output, 'jobs', (records) => run(records, typed, output));
