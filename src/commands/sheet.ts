// Writes the job sheet of a job: one printed page as HTML, or its drawings alone as SVG.
import { jobOf } from '../core/bench/job.ts';
import type { LengthUnit } from '../core/units.ts';
import { homeOf } from '../records/home.ts';
import { openRecords, type Records } from '../records/jobs.ts';
import { troubleText } from '../records/trouble.ts';
import { safeText } from '../wire/safe.ts';
import type { CommandSpec, ExitCode, Output, Typed } from './command.ts';

async function run(typed: Typed, output: Output): Promise<ExitCode> {
  const opened = openRecords(homeOf(process.env));
  if (!opened.ok) {
    output.message(`sheet: ${safeText(troubleText(opened.trouble))}`);
    return 3;
  }
  try {
    return await sheetOf(opened.value, typed, output);
  } finally {
    opened.value.close();
  }
}

/** The job meant: by words, or the one touched last. */
function meant(
  records: Records,
  words: string | undefined,
): { readonly id: string } | { readonly problem: string } {
  const found = words === undefined ? records.list({ limit: 1 }) : records.find(words);
  if (!found.ok) return { problem: troubleText(found.trouble) };
  const jobs = 'jobs' in found.value ? found.value.jobs : found.value;
  const only = jobs[0];
  if (!only)
    return {
      problem:
        words === undefined
          ? 'there is no job yet; the bench makes one'
          : `no job is meant by "${words}"; lidwright jobs lists them`,
    };
  if (jobs.length > 1)
    return {
      problem: `"${words}" means ${jobs.length} jobs: ${jobs
        .slice(0, 4)
        .map(({ number, name }) => `${number} ${name}`)
        .join('; ')}`,
    };
  return { id: only.id };
}

async function sheetOf(records: Records, typed: Typed, output: Output): Promise<ExitCode> {
  const which = meant(records, typed.args[0] as string | undefined);
  if ('problem' in which) {
    output.message(`sheet: ${safeText(which.problem)}.`);
    return 1;
  }
  const log = records.entriesOf(which.id);
  const job = log.ok ? jobOf(log.value) : undefined;
  if (!job) {
    output.message('sheet: that job cannot be read; lidwright doctor says more.');
    return 3;
  }
  const unit = (typed.options.unit as LengthUnit | undefined) ?? job.setup.unit;
  const [{ sheetDrawing }, { sheetPage }] = await Promise.all([
    import('../sheet/drawings.ts'),
    import('../sheet/page.ts'),
  ]);
  const markup =
    typed.options.svg === true
      ? sheetDrawing(job, unit)
      : sheetPage(job, unit, new Date().toISOString().slice(0, 10));
  if (markup === null) {
    output.message('sheet: there is nothing to draw before a bore is taken or planned.');
    return 1;
  }
  return deliver(markup, typed.options.file as string | undefined, output);
}

async function deliver(markup: string, file: string | undefined, output: Output): Promise<ExitCode> {
  if (file === undefined) {
    output.data(markup.trimEnd());
    return 0;
  }
  const { writePrivately } = await import('../records/home.ts');
  try {
    writePrivately(file, markup);
  } catch (error) {
    output.message(
      `sheet: ${safeText(file)} cannot be written (${safeText(error instanceof Error ? error.message : String(error))}). Give another --file.`,
    );
    return 3;
  }
  output.message(`job sheet: ${safeText(file)}`);
  return 0;
}

export const sheetCommand: CommandSpec = {
  name: 'sheet',
  summary: 'job sheet with to-scale drawings: HTML that prints to one page, or the drawings as SVG',
  arguments: [{ name: '[job]', about: 'number, name or id of a job; the one touched last when left out' }],
  options: [
    { flags: '--svg', about: 'the drawings alone' },
    { flags: '--unit <unit>', about: 'mm or in; the job’s own when left out', choices: ['mm', 'in'] },
    { flags: '--file <path>', about: 'write it here instead of to stdout' },
  ],
  example: { line: 'sheet --file sheet.html', shows: 'the sheet of the job touched last, ready to print' },
  run,
};
