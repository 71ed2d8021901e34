// `lidwright jobs show`: one job with everything: how each figure came to be, every entry, every reading.
import { type Entry, shortId } from '../../core/bench/entry.ts';
import { type Job, jobOf } from '../../core/bench/job.ts';
import { fineFigure } from '../../core/figures.ts';
import { forScreen } from '../../core/safe-text.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { factShape, setupShape } from '../../records/codec/fact.ts';
import { lineOf, plainOfEntry, plainOfKept } from '../../records/codec/row.ts';
import type { JobLog, LeftOut } from '../../records/jobs.ts';
import type { JobSummary } from '../../records/list.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { factWords } from './fact-words.ts';
import { figuresOf, type JobFigure } from './figures.ts';
import { orTell, withJob, withRecords } from './opening.ts';
import { jobLine, jobObject } from './words.ts';

const undoneIn = (entries: readonly Entry[]): ReadonlySet<string> =>
  new Set(entries.flatMap(({ fact }) => (fact.kind === 'undone' ? [fact.entry] : [])));

const entryObject = (entry: Entry, undone: ReadonlySet<string>): object => ({
  id: entry.id,
  atMs: entry.at,
  undone: undone.has(entry.id),
  fact: factShape.toPlain(entry.fact),
  readings: entry.readings.map(plainOfKept),
});

/** The whole job as one plain object. */
export function jobWhole(summary: JobSummary, log: JobLog, job: Job | undefined): object {
  const undone = undoneIn(log.entries);
  return {
    kind: 'job',
    v: 1,
    ...jobObject(summary),
    setup: job ? setupShape.toPlain(job.setup) : null,
    figures: job ? figuresOf(job) : [],
    notes: job?.notes ?? [],
    entries: log.entries.map((entry) => entryObject(entry, undone)),
    fromNewerProgram: log.leftOut.filter(({ why }) => why === 'newer').map(({ row }) => plainOfEntry(row)),
    unusable: log.leftOut.filter(({ why }) => why !== 'newer').map(({ row }) => plainOfEntry(row)),
  };
}

/** `femaleDepthMm` as `female depth`. */
const labelOf = (key: string): string =>
  key.replace(/(Mm|Deg)$/, '').replace(/[A-Z0-9]+/g, (found) => ` ${found.toLowerCase()}`);

function inputText(key: string, value: JobFigure['inputs'][string], unit: LengthUnit): string {
  const label = labelOf(key);
  if (typeof value === 'boolean') return value ? label : `not ${label}`;
  if (typeof value !== 'number') return `${label} ${value}`;
  if (key.endsWith('Mm')) return `${label} ${fineFigure(mm(value), unit)}`;
  return `${label} ${Number(value.toFixed(1))}${key.endsWith('Deg') ? ' deg' : ''}`;
}

function figureLines(figure: JobFigure, unit: LengthUnit, columns: number): readonly string[] {
  const { standardMm, formula, inputs } = figure;
  const doubt = standardMm === null ? '' : ` (standard uncertainty ${fineFigure(mm(standardMm), unit)})`;
  const from = Object.entries(inputs).flatMap(([key, value]) =>
    value === null ? [] : [inputText(key, value, unit)],
  );
  const said = `  ${figure.figure}: ${fineFigure(figure.valueMm, unit)}${doubt}; ${formula}`;
  return [
    said,
    ...wrapped(
      from.map((input, at) => (at < from.length - 1 ? `${input},` : input)),
      columns,
    ),
  ];
}

/** Date and time (UTC) to the second; as it stands when no calendar holds it. */
function whenText(at: number): string {
  const date = new Date(at);
  return Number.isNaN(date.getTime()) ? String(at) : date.toISOString().slice(0, 19).replace('T', ' ');
}

/** Words set in lines of at most this many columns, each indented. */
function wrapped(words: readonly string[], columns: number): readonly string[] {
  const lines: string[] = [];
  let line = '     ';
  for (const word of words) {
    if (line.length + 1 + word.length > columns && line.trim() !== '') {
      lines.push(line);
      line = '     ';
    }
    line += ` ${word}`;
  }
  return line.trim() === '' ? lines : [...lines, line];
}

function entryLines(
  entry: Entry,
  undone: ReadonlySet<string>,
  unit: LengthUnit,
  columns: number,
): readonly string[] {
  const mark = undone.has(entry.id) ? ' [undone]' : '';
  const first = `  ${whenText(entry.at)}  ${shortId(entry.id)}  ${factWords(entry.fact, unit)}${mark}`;
  const readings = entry.readings.map((reading) => `${forScreen(reading.text, 16)}${reading.unit}`);
  return [first, ...wrapped(readings, columns)];
}

const leftOutLine = ({ row, why }: LeftOut): string => {
  const because =
    why === 'newer'
      ? 'written by a newer lidwright'
      : `holds a value that can't be used (${forScreen(why.unusable, 200)})`;
  return `  ${whenText(row.at)}  ${shortId(row.id)}  ${forScreen(row.kind, 40)}: ${because}; kept, not used`;
};

function say(summary: JobSummary, log: JobLog, job: Job | undefined, output: Output): void {
  output.data(jobLine(summary, Date.now()).trim());
  output.data(`id ${summary.id}`);
  const columns = Math.max(40, output.columns);
  if (job) {
    output.data('how each figure came to be');
    for (const line of figuresOf(job).flatMap((figure) => figureLines(figure, summary.unit, columns)))
      output.data(line);
  }
  output.data('entries, oldest first, times UTC');
  const undone = undoneIn(log.entries);
  for (const entry of log.entries)
    for (const line of entryLines(entry, undone, summary.unit, columns)) output.data(line);
  for (const each of log.leftOut) output.data(leftOutLine(each));
}

export async function runShow(typed: Typed, output: Output): Promise<ExitCode> {
  return withRecords(output, (records) =>
    withJob(records, typed.args[0], output, (summary) =>
      orTell(records.logOf(summary.id), output, (log) => {
        const job = jobOf(log.entries);
        if (typed.options.json) output.data(lineOf(jobWhole(summary, log, job)));
        else say(summary, log, job, output);
        return 0;
      }),
    ),
  );
}
