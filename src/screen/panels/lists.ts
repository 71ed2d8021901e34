// Lists: names and values in a table, the fields of the new-job form, the jobs to choose from. The chosen row is always in view and marked.
import {
  atMost,
  type Block,
  blank,
  blockWidth,
  emptyRow,
  fitted,
  type PanelRoom,
  row,
  run,
  type StyledRow,
  shorten,
  textWidth,
  wrapped,
} from '../text.ts';

/** What is known of a job, or what can be done. */
export interface Table {
  readonly rows: readonly { readonly name: string; readonly value: string; readonly strong?: boolean }[];
}

type Entry = Table['rows'][number];

const GAP = 3;
/** A column of names and values that is narrower than this is not worth having. */
const NARROWEST = 34;

export function tableRows(table: Table, { columns, rows }: PanelRoom): Block {
  const room = columns - 2;
  const whole = (part: Table['rows'], width: number): Block => entriesThatFit(part, width, rows);
  const half = Math.ceil(table.rows.length / 2);
  if (table.rows.length <= rows || room < 2 * NARROWEST + GAP)
    return whole(table.rows, room).map((line) => [blank(1), ...line]);
  const width = Math.floor((room - GAP) / 2);
  const [left, right] = [whole(table.rows.slice(0, half), width), whole(table.rows.slice(half), width)];
  return Array.from({ length: Math.max(left.length, right.length) }, (_, at) => [
    blank(1),
    ...fitted(left[at] ?? [], blockWidth(left) + GAP),
    ...(right[at] ?? []),
  ]);
}

/** Entries while they fit; where some do not, the last row says how many. */
function entriesThatFit(part: Table['rows'], width: number, rows: number): Block {
  const names = nameWidth(part);
  const blocks = part.map((entry) => lines(entry, names, width, Math.max(1, rows)));
  if (blocks.flat().length <= rows || rows < 2) return blocks.flat().slice(0, Math.max(0, rows));
  const kept: StyledRow[] = [];
  for (const [at, block] of blocks.entries()) {
    if (kept.length + block.length > rows - 1)
      return [...kept, row(run(`and ${part.length - at} more`, 'quiet'))];
    kept.push(...block);
  }
  return kept;
}

const nameWidth = (rows: Table['rows']): number => Math.max(0, ...rows.map(({ name }) => textWidth(name)));

/** A long value goes on below its beginning. */
function lines({ name, value, strong }: Entry, names: number, width: number, rows: number): Block {
  const padded = name + ' '.repeat(Math.max(0, names - textWidth(name)));
  const room = Math.max(4, width - names - 2);
  const parts = value === '' ? [''] : atMost(wrapped(value, room), rows, room);
  return parts.map((part, at) =>
    row(
      run(at === 0 ? padded : ' '.repeat(names), 'quiet'),
      '  ',
      run(shorten(part, room), strong ? 'strong' : 'plain'),
    ),
  );
}

/** Names at the left, values at the right, below them the hint or error of the field stood on. */
interface FormField {
  readonly name: string;
  readonly value: string;
  /** Chosen from a list rather than typed. */
  readonly choice: boolean;
}

export interface FormModel {
  readonly fields: readonly FormField[];
  readonly at: number;
  readonly hint: string;
  readonly error: string | null;
}

const FIELD_WIDTH = 16;

export function formRows(form: FormModel, { columns, rows }: PanelRoom): Block {
  const below = form.error ?? form.hint;
  const notes = wrapped(below, columns - 4).map(
    (line): StyledRow => row('  ', run(line, form.error ? 'bad' : 'quiet')),
  );
  const room = Math.max(1, rows - notes.length - 1);
  const first = Math.max(0, Math.min(form.at - Math.floor(room / 2), form.fields.length - room));
  const lines = form.fields
    .slice(first, first + room)
    .map((_, offset) => fieldRow(form, first + offset, columns));
  return [...lines, emptyRow, ...notes].slice(0, Math.max(rows, 0));
}

function fieldRow(form: FormModel, at: number, columns: number): StyledRow {
  const field = form.fields[at];
  if (!field) return emptyRow;
  const here = at === form.at;
  const room = columns - FIELD_WIDTH - 8;
  const value = shorten(field.value === '' && !here ? '–' : field.value, room);
  const shown = field.choice && here ? `‹ ${value} ›` : value;
  return row(
    run(here ? ' ▸ ' : '   ', here ? 'next' : 'plain'),
    run(field.name.padEnd(FIELD_WIDTH), here ? 'strong' : 'quiet'),
    run(here ? ` ${shown} ` : ` ${shown}`, here ? 'chosen' : 'plain'),
  );
}

interface JobRow {
  readonly name: string;
  readonly stage: string;
  readonly when: string;
  readonly closed: boolean;
}

export interface Jobs {
  readonly rows: readonly JobRow[];
  readonly at: number;
}

const STAGE_WIDTH = 16;
const WHEN_WIDTH = 14;

export function jobRows(jobs: Jobs, { columns, rows }: PanelRoom): Block {
  const first = Math.max(0, Math.min(jobs.at - Math.floor(rows / 2), jobs.rows.length - rows));
  return jobs.rows.slice(first, first + rows).map((_, offset) => jobRow(jobs, first + offset, columns));
}

function jobRow(jobs: Jobs, at: number, columns: number): StyledRow {
  const job = jobs.rows[at];
  if (!job) return emptyRow;
  const here = at === jobs.at;
  const room = Math.max(8, columns - STAGE_WIDTH - WHEN_WIDTH - 8);
  const name = fitted(row(run(` ${shorten(job.name, room)}`, here ? 'chosen' : 'plain')), room + 2);
  return row(
    run(here ? ' ▸' : '  ', 'next'),
    ...name.map((part) => (here ? run(part.text, 'chosen') : part)),
    run(
      ` ${job.closed ? '● ' : '○ '}${(job.closed ? 'closed' : job.stage).padEnd(STAGE_WIDTH - 2)}`,
      job.closed ? 'quiet' : 'plain',
    ),
    run(job.when.padStart(WHEN_WIDTH), 'quiet'),
  );
}
