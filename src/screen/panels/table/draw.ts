// Draws a table, in two columns where it is too long for one and there is room beside.
import { type Block, beside, type Row, row, run } from '../../picture.ts';
import { shorten, textWidth } from '../../text.ts';
import type { Table } from './table.ts';

const GAP = 3;
/** A column of names and values that is narrower than this is not worth having. */
const NARROWEST = 34;

export function drawTable(table: Table, columns: number, rows: number): Block {
  const room = columns - 2;
  const two = table.rows.length > rows && room >= 2 * NARROWEST + GAP;
  const half = Math.ceil(table.rows.length / 2);
  const parts = two ? [table.rows.slice(0, half), table.rows.slice(half)] : [table.rows];
  const width = two ? Math.floor((room - GAP) / 2) : room;
  const blocks = parts.map((part) => part.slice(0, rows).map((entry) => line(entry, nameWidth(part), width)));
  return beside(blocks, GAP).map((of) => [run(' '), ...of]);
}

const nameWidth = (rows: Table['rows']): number => Math.max(0, ...rows.map(({ name }) => textWidth(name)));

function line({ name, value, strong }: Table['rows'][number], names: number, width: number): Row {
  const padded = name + ' '.repeat(Math.max(0, names - textWidth(name)));
  return row(
    run(padded, 'quiet'),
    '  ',
    run(shorten(value, Math.max(4, width - names - 2)), strong ? 'strong' : 'plain'),
  );
}
