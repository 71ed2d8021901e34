// Exports: the log as NDJSON, one row a line, in an order that depends on nothing but the rows themselves.
import { lineOf, plainOfEntry, plainOfReading } from './codec/row.ts';
import type { Database } from './database.ts';
import type { Records } from './jobs.ts';
import { column, entriesOfJob, type Numbered, readingsOf } from './log.ts';
import type { Kept } from './trouble.ts';

export const FORMAT = 'lidwright-jobs';
export const FORMAT_VERSION = 1;

/** The first row: what the file is, and the version of its rows. */
export const HEADER = lineOf({ row: 'header', format: FORMAT, v: FORMAT_VERSION });

export interface Counts {
  readonly jobs: number;
  readonly entries: number;
  readonly readings: number;
}

/** Called with one line at a time, without its line feed. */
export type Sink = (line: string) => void;

function exportEntry(database: Database, entry: Numbered, sink: Sink): number {
  sink(lineOf(plainOfEntry(entry.row)));
  const readings = readingsOf(database, entry);
  for (const reading of readings) sink(lineOf(plainOfReading(reading)));
  return readings.length;
}

/** Numbers of the jobs to export, in the order of their ids: all of them when none is named. */
export function jobNumbers(database: Database, only?: readonly string[]): readonly number[] {
  const rows = only
    ? only.toSorted().map((id) => database.get('SELECT number FROM job WHERE id = ?', id))
    : database.all('SELECT number FROM job ORDER BY id');
  return rows.flatMap((row) => (row ? [column.number(row, 'number')] : []));
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
      let entries = 0;
      let readings = 0;
      for (const number of numbers)
        for (const entry of entriesOfJob(database, number)) {
          entries += 1;
          readings += exportEntry(database, entry, sink);
        }
      return { jobs: numbers.length, entries, readings };
    }),
  );
}
