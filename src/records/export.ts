// Exports: the log as NDJSON in an order that depends only on the rows, readings as CSV (RFC 4180), and the rescue of an unsaved job.
import { join } from 'node:path';
import type { Entry } from '../core/bench/entry.ts';
import { forFile } from '../core/safe-text.ts';
import { factOf, HEADER, lineOf, plainOfEntry, plainOfReading, plainRowsOf } from './codec/row.ts';
import type { Database } from './database.ts';
import { writeNewFile } from './home.ts';
import type { Records } from './jobs.ts';
import { entriesOfJob, numberIn, readingRowsOf } from './log.ts';
import type { Kept } from './trouble.ts';

export interface Counts {
  readonly jobs: number;
  readonly entries: number;
  readonly readings: number;
}

/** Called with one line at a time, without its line feed. */
export type Sink = (line: string) => void;

/** Numbers of the jobs to export, in the order of their ids: all of them when none is named. */
function jobNumbers(database: Database, only?: readonly string[]): readonly number[] {
  const rows = only
    ? only.toSorted().map((id) => database.get('SELECT number FROM job WHERE id = ?', id))
    : database.all('SELECT number FROM job ORDER BY id');
  return rows.flatMap((row) => (row ? [numberIn(row, 'number')] : []));
}

/**
 * Writes the header, then each job's entries in the order of its log, each followed by its readings.
 * @param only ids of jobs; every job, removed ones too, when left out
 */
export function exportJobs(records: Records, sink: Sink, only?: readonly string[]): Kept<Counts> {
  return records.use((database) =>
    database.view(() => {
      sink(HEADER);
      const numbers = jobNumbers(database, only);
      const counts = { jobs: numbers.length, entries: 0, readings: 0 };
      for (const number of numbers)
        for (const entry of entriesOfJob(database, number)) {
          const readings = readingRowsOf(database, entry);
          for (const row of [plainOfEntry(entry.row), ...readings.map(plainOfReading)]) sink(lineOf(row));
          counts.entries += 1;
          counts.readings += readings.length;
        }
      return counts;
    }),
  );
}

const NUMBER = /^[+-]?\d+(\.\d+)?$/;
const STARTS_A_FORMULA = /^[=+\-@\t\r\n\uff0b\uff0d\uff1d\uff20]/;

/**
 * A text cell, always quoted. Text that would start a formula in a spreadsheet gets an apostrophe in front, unless it is a plain number;
 * characters that a terminal may obey become \uHHHH, so that one row stays one line.
 */
export function textCell(text: string): string {
  const inert = STARTS_A_FORMULA.test(text) && !NUMBER.test(text) ? `'${text}` : text;
  return `"${forFile(inert).replaceAll('"', '""')}"`;
}

const HEADING = 'job_id,job_name,entry_id,entry_time_utc,fact,n,as_read,unit,value_mm,step_mm,board_ms,line';

/** A date as ISO 8601; empty for one outside the calendar. */
const dateCell = (at: number): string => {
  const date = new Date(at);
  return Number.isNaN(date.getTime()) ? '' : date.toISOString();
};

/** Writes a heading and one line per reading, jobs and entries in the order of the NDJSON export. */
export function exportReadings(records: Records, sink: Sink, only?: readonly string[]): Kept<number> {
  return records.use((database) =>
    database.view(() => {
      sink(HEADING);
      let count = 0;
      for (const number of jobNumbers(database, only)) {
        let name = String(database.get('SELECT name FROM summary WHERE job = ?', number)?.name ?? '');
        for (const entry of entriesOfJob(database, number)) {
          const fact = factOf(entry.row);
          if (fact?.kind === 'job-begun' && name === '') name = fact.setup.name;
          const { row } = entry;
          const before = [row.job, name, row.id, dateCell(row.at), row.kind].map(textCell);
          for (const reading of readingRowsOf(database, entry)) {
            const { n, text, unit, value, step, at, raw } = reading;
            sink([...before, n, textCell(text), textCell(unit), value, step, at, textCell(raw)].join(','));
            count += 1;
          }
        }
      }
      return count;
    }),
  );
}

/** The place of each saved entry in the job's log, by id; unsaved entries come after them. */
export type Places = ReadonlyMap<string, number>;

/** A whole log as export rows, nothing left out, so that an import adds what is missing and nothing twice. */
export function rescueText(log: readonly Entry[], places: Places): string {
  let last = Math.max(0, ...places.values());
  const rows = log.flatMap((entry) => {
    const n = places.get(entry.id) ?? last + 1;
    last = Math.max(last, n);
    return plainRowsOf(entry, n).map(lineOf);
  });
  return `${[HEADER, ...rows].join('\n')}\n`;
}

/** Writes a text to the first of these folders with room for all of it, never over a file; null where none has, and then leaves nothing. */
export function rescue(text: string, folders: readonly string[], stamp: number): string | null {
  for (const folder of folders) {
    const path = join(folder, `lidwright-rescued-${stamp}.ndjson`);
    try {
      writeNewFile(path, text);
      return path;
    } catch {}
  }
  return null;
}
