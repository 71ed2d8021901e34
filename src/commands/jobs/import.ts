// `lidwright jobs import`: merges an export from this bench or another one; what is here already is left as it is.
import { createReadStream, statSync } from 'node:fs';
import { lineOf } from '../../records/codec/row.ts';
import { type ImportReport, importJobs } from '../../records/import.ts';
import type { Records } from '../../records/jobs.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { safeMessage, tell, withRecords } from './opening.ts';

/** Bytes read and written in one transaction. */
const CHUNK = 1024 * 1024;
/** Progress is said after this, and then as often. */
const PROGRESS_MS = 1000;

/** Says how far it is, once it takes longer than a second. */
function progress(
  output: Output,
  now: () => number = performance.now.bind(performance),
): (lines: number) => void {
  const began = now();
  let said = began;
  return (lines) => {
    if (now() - said < PROGRESS_MS) return;
    said = now();
    const rate = Math.round(lines / ((said - began) / 1000));
    output.message(`jobs: ${lines} rows read, ${rate} a second`);
  };
}

function reportLines(report: ImportReport): readonly string[] {
  const { entries, readings, jobsTouched, jobsWithoutBeginning } = report;
  return [
    `${entries.added} entries and ${readings.added} readings added, in ${jobsTouched} jobs.`,
    ...(entries.known + readings.known > 0
      ? [`${entries.known} entries and ${readings.known} readings were here already and are as they were.`]
      : []),
    ...(jobsWithoutBeginning > 0
      ? [
          `${jobsWithoutBeginning} jobs have no beginning here: their entries are kept, and they are listed once it is imported.`,
        ]
      : []),
  ];
}

function refusalLines({
  refused,
  firstRefused,
  stopped,
  entries,
  readings,
}: ImportReport): readonly string[] {
  const kept = `${entries.added + readings.added} rows were added and are kept`;
  const shown = firstRefused.map(({ line, reason }) => `line ${line}: ${safeMessage(reason)}`);
  if (stopped !== null) return [...shown.slice(-1), `The rest of the file was not read; ${kept}.`];
  const more = refused > shown.length ? [`and ${refused - shown.length} lines more`] : [];
  return [
    ...shown,
    ...more,
    `${refused} rows were refused; ${kept}. Mend those lines and import the file again: nothing is taken twice.`,
  ];
}

/** Standard input for `-`, else the file, in large pieces. */
const chunksOf = (path: string): AsyncIterable<Uint8Array> =>
  path === '-' ? process.stdin : createReadStream(path, { highWaterMark: CHUNK });

function unreadable(path: string): string | undefined {
  if (path === '-') return undefined;
  const found = statSync(path, { throwIfNoEntry: false });
  if (!found) return 'there is no such file';
  return found.isDirectory() ? 'it is a folder' : undefined;
}

function finish(report: ImportReport, typed: Typed, output: Output): ExitCode {
  if (typed.options.json) output.data(lineOf({ kind: 'imported', v: 1, ...report }));
  else for (const line of reportLines(report)) output.data(line);
  if (report.lines === 0) output.message('jobs: there is nothing in it; nothing was added.');
  if (report.refused > 0) for (const line of refusalLines(report)) output.message(`jobs: ${line}`);
  return report.refused > 0 || report.lines === 0 ? 1 : 0;
}

async function run(records: Records, typed: Typed, output: Output): Promise<ExitCode> {
  const path = String(typed.args[0] ?? '');
  const wrong = unreadable(path);
  if (wrong !== undefined) {
    output.message(`jobs: ${safeMessage(path)}: ${wrong}. Nothing was added.`);
    return 3;
  }
  try {
    const report = await importJobs(records, chunksOf(path), progress(output));
    return report.ok ? finish(report.value, typed, output) : tell(report.trouble, output);
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error;
    output.message(
      `jobs: ${safeMessage(path)} could not be read on (${safeMessage(error.message)}). What was added is kept; import it again.`,
    );
    return 3;
  }
}

export const runImport = (typed: Typed, output: Output): Promise<ExitCode> =>
  withRecords(output, (records) => run(records, typed, output));
