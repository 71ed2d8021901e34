// Reads what can be read of a damaged database, row by row, and exports it beside it; the damaged files are only read.
import { closeSync, copyFileSync, existsSync, openSync, rmSync, writeSync } from 'node:fs';
import { type EntryRow, lineOf, plainOfEntry, plainOfReading, type ReadingRow } from './codec/row.ts';
import { type Database, failureOf, openDatabase, type Row } from './database.ts';
import { HEADER } from './export.ts';
import { DamageFound, entryIn, readingIn } from './log.ts';
import type { Salvage } from './trouble.ts';

/** Past this many rows in a row that cannot be read, the gap is crossed in growing steps. */
const STRIDE = 64;

/** What work gives, or undefined where the damage stops it. */
function readable<T>(work: () => T): T | undefined {
  try {
    return work();
  } catch (error) {
    if (error instanceof DamageFound || error instanceof SyntaxError || failureOf(error)) return undefined;
    throw error;
  }
}

/** The largest row number in a table; where even that cannot be read, more than a file of this size can hold. */
function lastRow(database: Database, table: 'entry' | 'job'): number {
  const column = table === 'entry' ? 'seq' : 'number';
  const last = readable(() => database.get(`SELECT max(${column}) AS last FROM ${table}`)?.last);
  if (typeof last === 'number') return last;
  const pages = readable(() => Number(database.get('PRAGMA page_count')?.page_count)) ?? 1;
  return pages * 200;
}

/** Every row of a walk that can be read: `next` answers the first row after a number, or throws where the damage is. */
function* walk(
  last: number,
  next: (after: number) => Row | undefined,
  at: (row: Row) => number,
): Generator<Row> {
  let after = 0;
  let missed = 0;
  while (after < last) {
    const found = readable(() => ({ row: next(after) }));
    if (found && !found.row) return;
    if (found?.row) {
      missed = 0;
      after = at(found.row);
      yield found.row;
    } else {
      missed += 1;
      after += missed < STRIDE ? 1 : Math.ceil(missed / STRIDE);
    }
  }
}

const numberIn = (row: Row, column: string): number => Number(row[column]);

/** Ids of jobs by their numbers, as far as they can be read. */
function jobsIn(database: Database): ReadonlyMap<number, string> {
  const next = (after: number): Row | undefined =>
    database.get('SELECT number, id FROM job WHERE number > ? ORDER BY number LIMIT 1', after);
  const rows = [...walk(lastRow(database, 'job'), next, (row) => numberIn(row, 'number'))];
  return new Map(rows.map((row) => [numberIn(row, 'number'), String(row.id)]));
}

interface Found {
  readonly row: EntryRow;
  readonly readings: readonly ReadingRow[];
}

function* entriesIn(database: Database): Generator<Found> {
  const jobs = jobsIn(database);
  const next = (after: number): Row | undefined =>
    database.get('SELECT * FROM entry WHERE seq > ? ORDER BY seq LIMIT 1', after);
  for (const found of walk(lastRow(database, 'entry'), next, (row) => numberIn(row, 'seq'))) {
    const job = jobs.get(numberIn(found, 'job'));
    const entry = readable(() => entryIn({ ...found, job: job ?? '' }));
    if (!entry) continue;
    yield { row: entry.row, readings: readingsIn(database, entry.seq, entry.row) };
  }
}

function readingsIn(database: Database, seq: number, entry: EntryRow): readonly ReadingRow[] {
  const all = readable(() =>
    database
      .all('SELECT * FROM reading WHERE entry = ? ORDER BY n', seq)
      .map((row) => readingIn(row, entry.id)),
  );
  if (all) return all;
  return Array.from({ length: entry.readings }, (_, n) =>
    readable(() => {
      const row = database.get('SELECT * FROM reading WHERE entry = ? AND n = ?', seq, n);
      return row && readingIn(row, entry.id);
    }),
  ).filter((row) => row !== undefined);
}

/** A copy to read from, so that not even the driver's own bookkeeping touches the damaged files. */
function copyOf(path: string): string {
  const copy = `${path}.copy`;
  for (const ending of ['', '-wal'])
    if (existsSync(path + ending)) copyFileSync(path + ending, copy + ending);
  return copy;
}

const removeCopy = (copy: string): void => {
  for (const ending of ['', '-wal', '-shm', '-journal']) rmSync(copy + ending, { force: true });
};

function write(database: Database, path: string): Salvage | null {
  const counts = { entries: 0, readings: 0 };
  const jobs = new Set<string>();
  const file = openSync(path, 'wx', 0o600);
  try {
    writeSync(file, `${HEADER}\n`);
    for (const { row, readings } of entriesIn(database)) {
      const lines = [
        lineOf(plainOfEntry(row)),
        ...readings.map((reading) => lineOf(plainOfReading(reading))),
      ];
      writeSync(file, `${lines.join('\n')}\n`);
      counts.entries += 1;
      counts.readings += readings.length;
      jobs.add(row.job);
    }
  } finally {
    closeSync(file);
  }
  if (counts.entries > 0) return { path, jobs: jobs.size, ...counts };
  rmSync(path, { force: true });
  return null;
}

/** Exports what can be read of the database at `path` to `path` with `.ndjson` for `.db`; null when nothing can be. */
export function salvage(path: string): Salvage | null {
  const copy = copyOf(path);
  try {
    const database = readable(() => openDatabase(copy));
    if (!database) return null;
    try {
      return write(database, path.replace(/\.db$/, '.ndjson'));
    } finally {
      database.close();
    }
  } catch {
    return null;
  } finally {
    removeCopy(copy);
  }
}
