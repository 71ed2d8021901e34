// Writes the job sheet of a job: one printed page as HTML, or its drawings alone as SVG; to stdout, or to a file.
import { type Job, jobOf } from '../core/bench/job.ts';
import { parseUnit } from '../core/quantity.ts';
import type { Records } from '../records/jobs.ts';
import type { JobSummary } from '../records/list.ts';
import { troubleText } from '../records/trouble.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { findJob, reportNotFound } from './find-job.ts';
import { safeMessage, withRecords } from './open-records.ts';
import { readOptions, wrongUse } from './options.ts';

const say = (output: Output, words: string): void => output.message(`sheet: ${safeMessage(words)}`);

const run = (typed: Typed, output: Output): Promise<ExitCode> =>
  withRecords(output, 'sheet', (records) => sheetOf(records, typed, output));

async function sheetOf(records: Records, typed: Typed, output: Output): Promise<ExitCode> {
  const found = findJob(records, typed.args[0] as string | undefined);
  if (!found.ok) return reportNotFound(found, output);
  const log = records.entriesOf(found.job.id);
  const job = log.ok ? jobOf(log.value) : undefined;
  if (job) return written(found.job, job, typed, output);
  say(
    output,
    log.ok
      ? "the start of that job isn't in this database. `lidwright doctor` says more."
      : troubleText(log.trouble),
  );
  return 3;
}

/** A page can always be made; a drawing needs something to draw. */
async function written(summary: JobSummary, job: Job, typed: Typed, output: Output): Promise<ExitCode> {
  const options = readOptions(typed);
  const unit = options.optional('--unit', parseUnit) ?? job.setup.unit;
  if (options.errors.length > 0) return wrongUse('sheet', options.errors, output);
  const { drawingsOf, sheetDrawing } = await import('../sheet/drawings.ts');
  const { sheetPage } = await import('../sheet/page.ts');
  const { missing } = drawingsOf(job, unit);
  const svg = typed.options.svg === true;
  const markup = svg ? sheetDrawing(job, unit) : sheetPage(job, unit, new Date().toISOString().slice(0, 10));
  for (const { what, why } of missing) say(output, `no ${what}: ${why}.`);
  if (markup === null) return 1;
  const about = {
    job: summary.number,
    id: job.id,
    name: job.name,
    format: svg ? 'svg' : 'html',
    unit,
    notDrawn: missing,
  };
  return delivered(markup, about, typed, output);
}

async function delivered(markup: string, about: object, typed: Typed, output: Output): Promise<ExitCode> {
  const path = typed.options.file as string | undefined;
  const json = typed.options.json === true;
  const bytes = Buffer.byteLength(markup);
  if (path === undefined) {
    output.data(json ? JSON.stringify({ ...about, file: null, bytes, markup }) : markup.trimEnd());
    return 0;
  }
  const { deliverTo } = await import('./sheet/deliver.ts');
  const done = deliverTo(path, markup);
  if (!done.ok) {
    say(output, `${path}: ${done.why}.`);
    return 3;
  }
  if (json) output.data(JSON.stringify({ ...about, file: path, replaced: done.replaced, bytes }));
  else say(output, `written to ${path}${done.replaced ? ', replacing the sheet that was there' : ''}`);
  return 0;
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
