// Writes the job sheet of a job: one printed page as HTML, or its drawings alone as SVG; to stdout, or to a file.
import type { Job } from '../core/bench/job.ts';
import { lengthUnit } from '../kit/quantities.ts';
import type { JobSummary } from '../records/list.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';
import { withJob } from './find-job.ts';
import { jobIn, safeMessage, withRecords } from './open-records.ts';
import { readOptions } from './options.ts';
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
  const options = readOptions(typed);
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

async function delivered(markup: string, about: object, typed: Typed, output: Output): Promise<ExitCode> {
  const path = typed.options.file as string | undefined;
  const bytes = Buffer.byteLength(markup);
  if (path === undefined)
    return answer(typed, output, { ...about, file: null, bytes, markup }, [markup.trimEnd()]);
  const { deliverTo } = await import('./sheet/deliver.ts');
  const done = deliverTo(path, markup);
  if (!done.ok) return say(output, 3, `${path}: ${done.why}.`);
  const { replaced } = done;
  answer(typed, output, { ...about, file: path, replaced, bytes }, []);
  if (typed.options.json === true) return 0;
  return say(output, 0, `written to ${path}${replaced ? ', replacing the sheet that was there' : ''}`);
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
