// `lidwright jobs show`: one job at a glance, and on demand how each figure was worked out, every entry and every reading.
import { type Entry, shortId } from '../../core/bench/entry.ts';
import { type Job, jobOf } from '../../core/bench/job.ts';
import { fineFigure } from '../../core/figures.ts';
import { forScreen } from '../../core/safe-text.ts';
import { inPart } from '../../core/thread/pair.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { factShape, setupShape } from '../../records/codec/fact.ts';
import { lineOf, plainOfEntry, plainOfKept } from '../../records/codec/row.ts';
import type { JobLog, LeftOut } from '../../records/jobs.ts';
import type { JobSummary } from '../../records/list.ts';
import { wrapped } from '../../screen/text.ts';
import { keyRows, madeRows, setupRows, shapeRows } from '../../sheet/rows.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { withJob } from '../find-job.ts';
import { orReport, withRecords } from '../open-records.ts';
import { figuresOf, type JobFigure } from './figures.ts';
import { factWords, jobLine, jobObject } from './words.ts';

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
function jobWhole(summary: JobSummary, log: JobLog, job: Job | undefined): object {
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

/** Depths by the symbols of their formulas too. */
const LABELS: { readonly [key in string]?: string } = {
  boreDepthMm: `depth ${inPart('female')} hf`,
  spigotDepthMm: `depth ${inPart('male')} hm`,
};

/** `sharpHeightMm` as `sharp height`. */
const labelOf = (key: string): string =>
  LABELS[key] ?? key.replace(/(Mm|Deg)$/, '').replace(/[A-Z0-9]+/g, (found) => ` ${found.toLowerCase()}`);

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
  return [said, ...indented(from.join(', '), columns)];
}

const INDENT = '      ';
const indented = (text: string, columns: number): readonly string[] =>
  wrapped(text, columns - INDENT.length).map((line) => INDENT + line);

/** Date and time (UTC) to the second; the bare number if it isn't a date. */
function whenText(at: number): string {
  const date = new Date(at);
  return Number.isNaN(date.getTime()) ? String(at) : date.toISOString().slice(0, 19).replace('T', ' ');
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
  return [first, ...indented(readings.join(' '), columns)];
}

const leftOutLine = ({ row, why }: LeftOut): string => {
  const because =
    why === 'newer'
      ? 'written by a newer lidwright'
      : `holds a value that can't be used (${forScreen(why.unusable, 200)})`;
  return `  ${whenText(row.at)}  ${shortId(row.id)}  ${forScreen(row.kind, 40)}: ${because}; kept, not used`;
};

const LABEL_COLUMNS = 24;
const row = (label: string, ...parts: readonly (string | null)[]): string =>
  forScreen(`${label.padEnd(LABEL_COLUMNS)}${parts.filter(Boolean).join('; ')}`, 200).trimEnd();

/** What a turner wants to know of a job at a glance, worked out as on its sheet. */
function summaryLines(job: Job, unit: LengthUnit): readonly string[] {
  const key = keyRows(job, job, unit).map(([what, [figure, under]]) => row(what, figure ?? 'not yet', under));
  const rest = [...shapeRows(job, unit), ...madeRows(job, unit), ...setupRows(job, unit)].flatMap(
    ([what, figure]) => (figure === null ? [] : [row(what, figure)]),
  );
  return [...key, ...rest, ...job.notes.map((note) => row('note', note.replaceAll('\n', ' ')))];
}

function logLines(
  summary: JobSummary,
  log: JobLog,
  job: Job | undefined,
  columns: number,
): readonly string[] {
  const figures = job ? figuresOf(job) : [];
  const undone = undoneIn(log.entries);
  return [
    'How each figure was worked out:',
    ...figures.flatMap((figure) => figureLines(figure, summary.unit, columns)),
    'Entries, oldest first, times UTC:',
    ...log.entries.flatMap((entry) => entryLines(entry, undone, summary.unit, columns)),
  ];
}

function say(summary: JobSummary, log: JobLog, job: Job | undefined, whole: boolean, output: Output): void {
  output.data(jobLine(summary, Date.now()).trim());
  output.data(`id ${summary.id}`);
  if (job) for (const line of summaryLines(job, summary.unit)) output.data(line);
  const columns = Math.max(40, output.columns);
  if (whole) for (const line of logLines(summary, log, job, columns)) output.data(line);
  for (const each of log.leftOut) output.data(leftOutLine(each));
  if (!whole) output.message('--log adds how each figure was worked out, and every entry with its readings.');
}

export const runShow = (typed: Typed, output: Output): Promise<ExitCode> =>
  withRecords(output, 'jobs', (records) =>
    withJob(records, String(typed.args[0] ?? ''), output, (found) =>
      orReport(records.logOf(found.id), output, (log) => {
        const job = jobOf(log.entries);
        if (typed.options.json) output.data(lineOf(jobWhole(found, log, job)));
        else say(found, log, job, typed.options.log === true, output);
        return 0;
      }),
    ),
  );
