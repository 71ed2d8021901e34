// The new-job form: names at the left, values at the right, the field stood on marked, its hint or error below.
import { type Block, emptyRow, row, run, type StyledRow } from '../styled-text.ts';
import { shorten, wrapped } from '../text.ts';

export interface FormField {
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

const NAME_WIDTH = 16;

export function formRows(form: FormModel, columns: number, rows: number): Block {
  const below = form.error ?? form.hint;
  const notes = wrapped(below, columns - 4).map(
    (line): StyledRow => row('  ', run(line, form.error ? 'bad' : 'quiet')),
  );
  const room = Math.max(1, rows - notes.length - 1);
  const first = Math.max(0, Math.min(form.at - Math.floor(room / 2), form.fields.length - room));
  const lines = form.fields
    .slice(first, first + room)
    .map((_, offset) => line(form, first + offset, columns));
  return [...lines, emptyRow, ...notes].slice(0, Math.max(rows, 0));
}

function line(form: FormModel, at: number, columns: number): StyledRow {
  const field = form.fields[at];
  if (!field) return emptyRow;
  const here = at === form.at;
  const room = columns - NAME_WIDTH - 8;
  const value = shorten(field.value === '' && !here ? '–' : field.value, room);
  const shown = field.choice && here ? `‹ ${value} ›` : value;
  return row(
    run(here ? ' ▸ ' : '   ', here ? 'next' : 'plain'),
    run(field.name.padEnd(NAME_WIDTH), here ? 'strong' : 'quiet'),
    run(here ? ` ${shown} ` : ` ${shown}`, here ? 'chosen' : 'plain'),
  );
}
