// The log in the database: rows added and read back in order, each with a checksum that shows a flipped bit.
import { crc32 } from 'node:zlib';
import { type Column, ENTRY_COLUMNS, type EntryRow, READING_COLUMNS, type ReadingRow } from './codec/row.ts';
import type { Cell, Database, Row } from './database.ts';

/** A row isn't what was written. The one catch in src/records sets the database aside. */
export class DamageFound extends Error {}

export function numberIn(row: Row, name: string): number {
  const value = row[name];
  if (typeof value === 'number') return value;
  throw new DamageFound(`${name} isn't a number`);
}

/** CRC-32/ISO-HDLC over a row's cells, its place included. */
export const sumOf = (cells: readonly Cell[]): number => crc32(cells.join('\u0000'));

const entryCells = ({ id, job, n, at, kind, fact, readings, more }: EntryRow): readonly Cell[] => [
  ...[id, job, n, at, kind, fact, readings, more],
];
const readingCells = ({ entry, n, text, unit, value, step, at, raw, more }: ReadingRow): readonly Cell[] => [
  ...[entry, n, text, unit, value, step, at, raw, more],
];

type Typed<T> = Pick<Column<T>, 'name' | 'type'>;
const ENTRY_TYPES: readonly Typed<EntryRow>[] = [...ENTRY_COLUMNS, { name: 'kind', type: 'string' }];

/** The cells of a row as they were written, proved by its checksum. */
function cellsIn<T>(
  found: Row,
  types: readonly Typed<T>[],
  listed: (cells: T) => readonly Cell[],
  what: () => string,
): T {
  const cells: Record<PropertyKey, unknown> = { more: found.more };
  for (const { name, type } of types) {
    cells[name] = found[String(name)];
    if (typeof cells[name] !== type) throw new DamageFound(`${what()}: ${String(name)} isn't a ${type}`);
  }
  // Each type was checked above, and the checksum holds for `more`.
  const row = cells as T;
  if (sumOf(listed(row)) !== found.crc) throw new DamageFound(`${what()} isn't what was written`);
  return row;
}

/** The number of a job in this database; undefined when it isn't here. */
export function numberOfJob(database: Database, id: string): number | undefined {
  const known = database.get('SELECT number FROM job WHERE id = ?', id);
  return known && numberIn(known, 'number');
}

export const addJob = (database: Database, id: string): number =>
  database.run('INSERT INTO job (id) VALUES (?)', id).last;

export const lastPlace = (database: Database, job: number): number =>
  Number(database.get('SELECT max(n) AS n FROM entry WHERE job = ?', job)?.n ?? 0);

const INSERT_ENTRY = `INSERT OR IGNORE INTO entry (id, job, n, at, kind, fact, readings, more, here, crc)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`;

/**
 * Adds an entry and returns its number in this database, or undefined when the id already exists.
 * `here` is true for what this bench wrote, false for what it imported.
 */
export function addEntry(database: Database, row: EntryRow, job: number, here: boolean): number | undefined {
  const cells = entryCells(row);
  const { changes, last } = database.run(INSERT_ENTRY, ...cells.with(1, job), here ? 1 : 0, sumOf(cells));
  return changes === 1 ? last : undefined;
}

/** Readings are written up to 32 at a time: several times as fast as one by one. */
export const TOGETHER = 32;
/** The statement for each count of readings. */
const INSERTS = Array.from(
  { length: TOGETHER },
  (_, at) => `INSERT OR IGNORE INTO reading (entry, n, text, unit, value, step, at, raw, more, crc)
    VALUES ${Array.from({ length: at + 1 }, () => '(?, ?, ?, ?, ?, ?, ?, ?, ?, ?)').join(', ')}`,
);

/** Adds readings of the entry with number `seq`; returns how many of their places were free. */
export function addReadings(database: Database, rows: readonly ReadingRow[], seq: number): number {
  let added = 0;
  for (let from = 0; from < rows.length; from += TOGETHER) {
    const some = rows.slice(from, from + TOGETHER);
    const cells: Cell[] = [];
    for (const row of some) {
      const { n, text, unit, value, step, at, raw, more } = row;
      cells.push(seq, n, text, unit, value, step, at, raw, more, sumOf(readingCells(row)));
    }
    added += database.run(INSERTS[some.length - 1] ?? '', ...cells).changes;
  }
  return added;
}

/** An entry row with its number in this database. */
interface NumberedEntry {
  readonly seq: number;
  /** True for one that this bench wrote, with all its readings in the same transaction. */
  readonly here: boolean;
  readonly row: EntryRow;
}

const COLUMNS = 'e.seq, e.id, j.id AS job, e.n, e.at, e.kind, e.fact, e.readings, e.here, e.more, e.crc';
export const ENTRIES = `SELECT ${COLUMNS} FROM entry e JOIN job j ON j.number = e.job`;

export function entryIn(found: Row): NumberedEntry {
  const row = cellsIn(found, ENTRY_TYPES, entryCells, () => `entry ${found.seq}`);
  return { seq: numberIn(found, 'seq'), here: found.here === 1, row };
}

export const readingIn = (found: Row, entry: string): ReadingRow =>
  cellsIn({ ...found, entry }, READING_COLUMNS, readingCells, () => `a reading of entry ${entry}`);

/** A job's entries in the order of its log. */
export const entriesOfJob = (database: Database, job: number): readonly NumberedEntry[] =>
  database.all(`${ENTRIES} WHERE e.job = ? ORDER BY e.n, e.at, e.id`, job).map(entryIn);

/** The readings of one entry, in order. */
export function readingRowsOf(database: Database, { seq, here, row }: NumberedEntry): readonly ReadingRow[] {
  const rows = database.all('SELECT * FROM reading WHERE entry = ? ORDER BY n', seq);
  if (rows.length > row.readings || (here && rows.length < row.readings))
    throw new DamageFound(`entry ${row.id} has ${rows.length} of its ${row.readings} readings`);
  return rows.map((read) => readingIn(read, row.id));
}

/** The entry with this id, of any job. */
export function entryById(database: Database, id: string): NumberedEntry | undefined {
  const row = database.get(`${ENTRIES} WHERE e.id = ?`, id);
  return row && entryIn(row);
}

/** The reading at place n of the entry with number `seq`. */
export function readingAt(database: Database, seq: number, entry: string, n: number): ReadingRow | undefined {
  const row = database.get('SELECT * FROM reading WHERE entry = ? AND n = ?', seq, n);
  return row && readingIn(row, entry);
}

const same = (one: readonly Cell[], other: readonly Cell[]): boolean =>
  one.every((cell, index) => cell === other[index]);

/** True when two rows have the same contents, unknown fields included. */
export const sameEntry = (one: EntryRow, other: EntryRow): boolean =>
  same(entryCells(one), entryCells(other));
export const sameReading = (one: ReadingRow, other: ReadingRow): boolean =>
  same(readingCells(one), readingCells(other));
