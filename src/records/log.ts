// The log in the database: rows added, rows read back in order, each with a check sum that a flipped bit does not survive.
import { crc32 } from 'node:zlib';
import type { EntryRow, ReadingRow } from './codec/row.ts';
import type { Database, Row } from './database.ts';

/** A row that is not what was written; carried to the adapter's one catch, which sets the database aside. */
export class DamageFound extends Error {}

const text = (row: Row, column: string): string => {
  const value = row[column];
  if (typeof value === 'string') return value;
  throw new DamageFound(`${column} is no text`);
};
const number = (row: Row, column: string): number => {
  const value = row[column];
  if (typeof value === 'number') return value;
  throw new DamageFound(`${column} is no number`);
};
const textOrNull = (row: Row, column: string): string | null =>
  row[column] === null ? null : text(row, column);

export const column = { text, number, textOrNull };

/** CRC-32/ISO-HDLC over what the row says, its place included. */
const sumOf = (cells: readonly (string | number | null)[]): number => crc32(cells.join('\u0000'));
const entrySum = (row: EntryRow): number =>
  sumOf([row.id, row.job, row.n, row.at, row.kind, row.fact, row.readings, row.more]);
const readingSum = (row: ReadingRow): number =>
  sumOf([row.entry, row.n, row.text, row.unit, row.value, row.step, row.at, row.raw, row.more]);

/** The number of a job in this database, given one when it is new. */
export function numberOfJob(database: Database, id: string): number {
  const known = database.get('SELECT number FROM job WHERE id = ?', id);
  return known ? number(known, 'number') : database.run('INSERT INTO job (id) VALUES (?)', id).last;
}

export const lastPlace = (database: Database, job: number): number =>
  Number(database.get('SELECT max(n) AS n FROM entry WHERE job = ?', job)?.n ?? 0);

const INSERT_ENTRY = `INSERT INTO entry (id, job, n, at, kind, fact, readings, here, more, crc)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`;

/** Adds an entry; its number in this database. `here` tells what this bench wrote from what it imported. */
export function addEntry(database: Database, row: EntryRow, job: number, here: boolean): number {
  const { id, n, at, kind, fact, readings, more } = row;
  return database.run(INSERT_ENTRY, id, job, n, at, kind, fact, readings, here ? 1 : 0, more, entrySum(row))
    .last;
}

const INSERT_READING = `INSERT OR IGNORE INTO reading (entry, n, text, unit, value, step, at, raw, more, crc)
  VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`;

/** Adds a reading of the entry with number `seq`; false when that place is taken. */
export function addReading(database: Database, row: ReadingRow, seq: number): boolean {
  const { n, text, unit, value, step, at, raw, more } = row;
  const sum = readingSum(row);
  return database.run(INSERT_READING, seq, n, text, unit, value, step, at, raw, more, sum).changes === 1;
}

/** An entry row with its number in this database. */
export interface Numbered {
  readonly seq: number;
  readonly row: EntryRow;
}

const COLUMNS = 'e.seq, e.id, j.id AS job, e.n, e.at, e.kind, e.fact, e.readings, e.more, e.crc';
export const ENTRIES = `SELECT ${COLUMNS} FROM entry e JOIN job j ON j.number = e.job`;

export function entryIn(row: Row): Numbered {
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
  if (entrySum(read) !== row.crc)
    throw new DamageFound(`entry ${number(row, 'seq')} is not what was written`);
  return { seq: number(row, 'seq'), row: read };
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
    throw new DamageFound(`a reading of entry ${entry} is not what was written`);
  return read;
}

/** A job's entries in the order of its log. */
export const entriesOfJob = (database: Database, job: number): readonly Numbered[] =>
  database.all(`${ENTRIES} WHERE e.job = ? ORDER BY e.n, e.at, e.id`, job).map(entryIn);

/** The readings behind one entry, in the order heard. */
export const readingsOf = (database: Database, { seq, row }: Numbered): readonly ReadingRow[] =>
  database
    .all('SELECT * FROM reading WHERE entry = ? ORDER BY n', seq)
    .map((read) => readingIn(read, row.id));
