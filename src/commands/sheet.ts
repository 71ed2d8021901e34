// Writes the job sheet of a job: a printed page as HTML or its drawings as SVG, to stdout or to a file, never over another file.
import { closeSync, existsSync, openSync, readSync, realpathSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import type { Job } from '../core/bench/job.ts';
import { plainName } from '../core/safe-text.ts';
import { lengthUnit } from '../kit/quantities.ts';
import { writePrivately } from '../records/home.ts';
import type { JobSummary } from '../records/list.ts';
import { MARK } from '../sheet/svg.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { withJob } from './find-job.ts';
import { jobIn, safeMessage, withRecords } from './open-records.ts';
import { OptionReader } from './options.ts';
import { answer, endWith, wrongUse } from './output.ts';

const say = (output: Output, code: ExitCode, words: string): ExitCode =>
  endWith(output, code, `sheet: ${safeMessage(words)}`);

const run = (typed: Typed, output: Output): Promise<ExitCode> =>
  withRecords(output, 'sheet', (records) =>
    withJob(records, typed.args[0] as string | undefined, output, (found) => {
      const job = jobIn(records, found.id);
      return 'trouble' in job ? say(output, 3, job.trouble) : written(found, job, typed, output);
    }),
  );

/** A page can always be made; a drawing needs something to draw. */
async function written(summary: JobSummary, job: Job, typed: Typed, output: Output): Promise<ExitCode> {
  const options = new OptionReader(typed);
  const unit = options.one('unit', lengthUnit) ?? job.setup.unit;
  if (options.errors.length > 0) return wrongUse('sheet', options.errors, output);
  const { drawingsOf, sheetDrawing } = await import('../sheet/drawings.ts');
  const { sheetPage } = await import('../sheet/page.ts');
  const { missing } = drawingsOf(job, unit);
  const svg = typed.options.svg === true;
  const markup = svg ? sheetDrawing(job, unit) : sheetPage(job, unit, new Date().toISOString().slice(0, 10));
  for (const { what, why } of missing) say(output, 0, `no ${what}: ${why}.`);
  if (markup === null) return 1;
  const format = svg ? 'svg' : 'html';
  const about = { job: summary.number, id: job.id, name: job.name, format, unit, notDrawn: missing };
  return delivered(markup, about, typed, output);
}

function delivered(markup: string, about: object, typed: Typed, output: Output): ExitCode {
  const path = typed.options.file as string | undefined;
  const bytes = Buffer.byteLength(markup);
  if (path === undefined)
    return answer(typed, output, { ...about, file: null, bytes, markup }, [markup.trimEnd()]);
  const replaced = existsSync(path);
  const trouble = troubleWriting(path, markup);
  if (trouble !== undefined) return say(output, 3, `${path}: ${trouble}.`);
  answer(typed, output, { ...about, file: path, replaced, bytes }, []);
  if (typed.options.json === true) return 0;
  return say(output, 0, `written to ${path}${replaced ? ', replacing the sheet that was there' : ''}`);
}

/** A file name for a job's sheet: its number, the plain letters and digits of its name, and the day. */
export const sheetFileName = (number: number, name: string, day: string): string =>
  `${[`job-${number}`, plainName(name), day].filter((part) => part !== '').join('-')}.html`;

/** The mark is near the beginning of a page and of a drawing. */
const BEGINNING = 4096;

function beginningOf(path: string): string {
  const file = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(BEGINNING);
    return bytes.toString('utf8', 0, readSync(file, bytes, 0, BEGINNING, 0));
  } finally {
    closeSync(file);
  }
}

/** Why nothing may be written there; undefined where it may. */
function inTheWay(path: string): string | undefined {
  const folder = dirname(resolve(path));
  if (!existsSync(folder)) return 'no such folder. Make it first, or choose another --file';
  if (!existsSync(path)) return undefined;
  const isSheet = statSync(path).isFile() && beginningOf(path).includes(MARK);
  return isSheet
    ? undefined
    : "already exists and isn't a job sheet, so it was left unchanged. Choose another --file, or move it away";
}

/** Writes the whole sheet or nothing; a power cut leaves the old one or the new one. Answers why it could not be written. */
function troubleWriting(path: string, markup: string): string | undefined {
  try {
    const why = inTheWay(path);
    if (why === undefined) writePrivately(existsSync(path) ? realpathSync(path) : path, markup);
    return why;
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return `can't be written (${reason}). Choose another --file`;
  }
}

export const sheetCommand: CommandSpec = {
  name: 'sheet',
  summary: 'make a job sheet with drawings to scale: one printed page as HTML, or the drawings as SVG',
  arguments: [{ name: '[job]', about: 'number, name or id of a job (the one used last)' }],
  options: [
    { flags: '--svg', about: 'only the drawings' },
    { flags: '--unit <unit>', about: "mm or in (the job's own)", offers: ['mm', 'in'] },
    {
      flags: '--file <path>',
      about: 'write this file instead of stdout; replaces an earlier job sheet, but no other file',
    },
    { flags: '--json', about: 'print one line of JSON; without --file the sheet is in it' },
  ],
  example: { line: 'sheet --file sheet.html', shows: 'the sheet of the job used last, ready to print' },
  run,
};
