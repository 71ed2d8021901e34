// The tables of firmware-notes/figures.md, measured now and compared with what the notes state.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { markdownOf, TABLES, type Table } from './tables.ts';

const NOTES = readFileSync(new URL('../../firmware-notes/figures.md', import.meta.url), 'utf8');

/** The cells under a heading; none where the table has no such heading. */
function column([headings = [], ...rows]: Table, heading: string): readonly string[] {
  const place = headings.indexOf(heading);
  return place < 0 ? [] : rows.map((row) => row[place] ?? 'missing');
}

describe('the figures of the notes', () => {
  it.each(Object.entries(TABLES))(
    '%s are what the kept images measure',
    (name, measure) => {
      const table = measure();
      process.stdout.write(`${name}\n\n${markdownOf(table)}\n\n`);
      expect(NOTES).toContain(`\n\n${markdownOf(table)}\n`);
      if (name !== 'long-pulses') expect(column(table, 'wrong').filter((wrong) => wrong !== '0')).toEqual([]);
      expect(column(table, 'reported')).toEqual(column(table, 'true'));
      expect(table.flat()).not.toContain('WRONG');
    },
    180_000,
  );
});
