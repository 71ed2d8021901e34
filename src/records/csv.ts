// Readings as CSV (RFC 4180) that a spreadsheet opens without running anything in it.
import { forFile } from '../core/safe-text.ts';
import { factOf } from './codec/row.ts';
import { jobNumbers, type Sink } from './export.ts';
import type { Records } from './jobs.ts';
import { entriesOfJob, readingsOf } from './log.ts';
import type { Kept } from './trouble.ts';

const NUMBER = /^[+-]?\d+(\.\d+)?$/;
const STARTS_A_FORMULA = /^[=+\-@\t\r\n\uff0b\uff0d\uff1d\uff20]/;

/**
 * A text cell, always quoted. One that would start a formula gets an apostrophe before it, unless it is a plain number;
 * characters that a terminal may obey become \uHHHH, so that one row stays one line.
 */
export function textCell(text: string): string {
  const inert = STARTS_A_FORMULA.test(text) && !NUMBER.test(text) ? `'${text}` : text;
  return `"${forFile(inert).replaceAll('"', '""')}"`;
}

/** A number cell: the number itself, or empty. */
export const numberCell = (value: number | null): string => (value === null ? '' : String(value));

const COLUMNS = [
  'job_id',
  'job_name',
  'entry_id',
  'entry_time_utc',
  'fact',
  'n',
  'as_read',
  'unit',
  'value_mm',
  'step_mm',
  'board_ms',
  'line',
];

/** A date as ISO 8601; empty for one that no calendar holds. */
const dateCell = (at: number): string => {
  const date = new Date(at);
  return Number.isNaN(date.getTime()) ? '' : date.toISOString();
};

/** Writes a heading and one line per reading, jobs and entries in the order of the NDJSON export. */
export function exportReadings(records: Records, sink: Sink, only?: readonly string[]): Kept<number> {
  return records.use((database) =>
    database.view(() => {
      sink(COLUMNS.join(','));
      let count = 0;
      for (const number of jobNumbers(database, only)) {
        let name = String(database.get('SELECT name FROM summary WHERE job = ?', number)?.name ?? '');
        for (const entry of entriesOfJob(database, number)) {
          const fact = factOf(entry.row);
          if (fact?.kind === 'job-begun' && name === '') name = fact.setup.name;
          const { row } = entry;
          const before = [row.job, name, row.id, dateCell(row.at), row.kind].map(textCell);
          for (const reading of readingsOf(database, entry)) {
            const { n, text, unit, value, step, at, raw } = reading;
            const numbers = [value, step, at].map(numberCell);
            sink(
              [...before, numberCell(n), textCell(text), textCell(unit), ...numbers, textCell(raw)].join(','),
            );
            count += 1;
          }
        }
      }
      return count;
    }),
  );
}
