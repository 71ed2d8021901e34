// The log in the database: rows added and read back in order, each with a checksum that shows a flipped bit.
import { crc32 } from 'node:zlib';
import type { EntryRow, ReadingRow } from './codec/row.ts';
import type { Database, Row } from './database.ts';

/** A row isn't what was written. The one catch in src/records sets the database aside. */
export class DamageFound extends Error {}

const text = (row: Row, column: string): string => {
  const value = row[column];
  if (typeof value === 'string') return value;
  throw new DamageFound(`${column} isn't text`);
};
const number = (row: Row, column: string): number => {
  const value = row[column];
  if (typeof value === 'number') return value;
  throw new DamageFound(`${column} isn't a number`);
};
const textOrNull = (row: Row, column: string): string | null =>
  row[column] === null ? null : text(row, column);

export const column = { text, number, textOrNull };

/** CRC-32/ISO-HDLC over a row's cells, its place included. */
export const sumOf = (cells: Cells): number => crc32(cells.join('\u0000'));
type Cells = readonly (string | number | null)[];
const entryCells = (row: EntryRow): Cells => [
  row.id,
  row.job,
  row.n,
  row.at,
  row.kind,
  row.fact,
  row.readings,
  row.more,
];
const readingCells = (row: ReadingRow): Cells => [
  row.entry,
  row.n,
  row.text,
  row.unit,
  row.value,
  row.step,
  row.at,
  row.raw,
  row.more,
];
const entrySum = (row: EntryRow): number => sumOf(entryCells(row));
/** The same as `sumOf(readingCells(row))`, without a list of cells: it runs for every reading of an import. */
const readingSum = (row: ReadingRow): number =>
  crc32(
    `${row.entry}\0${row.n}\0${row.text}\0${row.unit}\0${row.value}\0${row.step}\0${row.at}\0${row.raw}\0${row.more ?? ''}`,
  );

/** The number of a job in this database; undefined when it isn't here. */
export function numberOfJob(database: Database, id: string): number | undefined {
  const known = database.get('SELECT number FROM job WHERE id = ?', id);
  return known && number(known, 'number');
}

export const addJob = (database: Database, id: string): number =>
  database.run('INSERT INTO job (id) VALUES (?)', id).last;

export const lastPlace = (database: Database, job: number): number =>
  Number(database.get('SELECT max(n) AS n FROM entry WHERE job = ?', job)?.n ?? 0);

const INSERT_ENTRY = `INSERT OR IGNORE INTO entry (id, job, n, at, kind, fact, readings, here, more, crc)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`;

/**
 * Adds an entry and returns its number in this database, or undefined when the id already exists.
 * `here` is true for what this bench wrote, false for what it imported.
 */
export function addEntry(database: Database, row: EntryRow, job: number, here: boolean): number | undefined {
  const { id, n, at, kind, fact, readings, more } = row;
  const cells = [id, job, n, at, kind, fact, readings, here ? 1 : 0, more, entrySum(row)] as const;
  const { changes, last } = database.run(INSERT_ENTRY, ...cells);
  return changes === 1 ? last : undefined;
}

const READING_CELLS = '(?, ?, ?, ?, ?, ?, ?, ?, ?, ?)';
const insertReadings = (count: number): string =>
  `INSERT OR IGNORE INTO reading (entry, n, text, unit, value, step, at, raw, more, crc)
   VALUES ${Array.from({ length: count }, () => READING_CELLS).join(', ')}`;

/** Readings are written up to 32 at a time: several times as fast as one by one. */
export const TOGETHER = 32;
/** The statement for each count of readings. */
const INSERTS = Array.from({ length: TOGETHER }, (_, at) => insertReadings(at + 1));

function insert(database: Database, rows: readonly ReadingRow[], seq: number): number {
  const cells: (string | number | null)[] = [];
  for (const row of rows) {
    const { n, text, unit, value, step, at, raw, more } = row;
    cells.push(seq, n, text, unit, value, step, at, raw, more, readingSum(row));
  }
  return database.run(INSERTS[rows.length - 1] ?? '', ...cells).changes;
}

/** Adds readings of the entry with number `seq`; returns how many of their places were free. */
export function addReadings(database: Database, rows: readonly ReadingRow[], seq: number): number {
  let added = 0;
  for (let from = 0; from < rows.length; from += TOGETHER)
    added += insert(database, rows.slice(from, from + TOGETHER), seq);
  return added;
}

/** An entry row with its number in this database. */
export interface NumberedEntry {
  readonly seq: number;
  /** True for one that this bench wrote, with all its readings in the same transaction. */
  readonly here: boolean;
  readonly row: EntryRow;
}

const COLUMNS = 'e.seq, e.id, j.id AS job, e.n, e.at, e.kind, e.fact, e.readings, e.here, e.more, e.crc';
export const ENTRIES = `SELECT ${COLUMNS} FROM entry e JOIN job j ON j.number = e.job`;

export function entryIn(row: Row): NumberedEntry {
  const read: EntryRow = {
    id: text(row, 'id'),
    job: text(row, 'job'),
    n: number(row, 'n'),
    at: number(row, 'at'),
    kind: text(row, 'kind'),
    fact: text(row, 'fact'),
    readings: number(row, 'readings'),
    more: textOrNull(row, 'more'),
  };
  if (entrySum(read) !== row.crc) throw new DamageFound(`entry ${number(row, 'seq')} isn't what was written`);
  return { seq: number(row, 'seq'), here: row.here === 1, row: read };
}

export function readingIn(row: Row, entry: string): ReadingRow {
  const read: ReadingRow = {
    entry,
    n: number(row, 'n'),
    text: text(row, 'text'),
    unit: row.unit === 'in' ? 'in' : 'mm',
    value: number(row, 'value'),
    step: number(row, 'step'),
    at: number(row, 'at'),
    raw: text(row, 'raw'),
    more: textOrNull(row, 'more'),
  };
  if (readingSum(read) !== row.crc)
    throw new DamageFound(`a reading of entry ${entry} isn't what was written`);
  return read;
}

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

/** The entry with this id, whatever job it belongs to. */
export function entryById(database: Database, id: string): NumberedEntry | undefined {
  const row = database.get(`${ENTRIES} WHERE e.id = ?`, id);
  return row && entryIn(row);
}

/** The reading at place n of the entry with number `seq`. */
export function readingAt(database: Database, seq: number, entry: string, n: number): ReadingRow | undefined {
  const row = database.get('SELECT * FROM reading WHERE entry = ? AND n = ?', seq, n);
  return row && readingIn(row, entry);
}

const same = (one: Cells, other: Cells): boolean => one.every((cell, index) => cell === other[index]);

/** True when two rows have the same contents, unknown fields included. */
export const sameEntry = (one: EntryRow, other: EntryRow): boolean =>
  same(entryCells(one), entryCells(other));
export const sameReading = (one: ReadingRow, other: ReadingRow): boolean =>
  same(readingCells(one), readingCells(other));
