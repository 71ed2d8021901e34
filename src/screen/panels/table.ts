// A table of names and values: what is known of a job, or what can be done. In two columns where one is too short.
import { type Block, blank, blockWidth, fitted, row, run, type StyledRow } from '../styled-text.ts';
import { atMost, shorten, textWidth, wrapped } from '../text.ts';

export interface Table {
  readonly rows: readonly { readonly name: string; readonly value: string; readonly strong?: boolean }[];
}

type Entry = Table['rows'][number];

const GAP = 3;
/** A column of names and values that is narrower than this is not worth having. */
const NARROWEST = 34;

export function tableRows(table: Table, columns: number, rows: number): Block {
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
