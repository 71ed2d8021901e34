// Rows of the log as they are kept and exported: a table of columns for each kind. A field that isn't known here is never lost.

import * as v from 'valibot';
import type { Entry, Fact, KeptReading } from '../../core/bench/entry.ts';
import { forFile } from '../../core/safe-text.ts';
import type { Length, Millis } from '../../core/units.ts';
import { factShape, KNOWN_FACTS } from './fact.ts';

/** An entry without its readings. `fact` and `more` (fields this program does not know) are JSON. */
export interface EntryRow {
  readonly id: string;
  readonly job: string;
  /** Its place in the job's log: one more than the newest its writer had seen; ties fall to `at`, then `id`. */
  readonly n: number;
  readonly at: number;
  readonly kind: string;
  readonly fact: string;
  /** How many readings it rests on. */
  readonly readings: number;
  readonly more: string | null;
}

/** One reading, belonging to an entry by the entry's id and its own place. */
export interface ReadingRow extends KeptReading {
  readonly entry: string;
  readonly n: number;
  readonly more: string | null;
}

/** A row, or in a few words why it was refused. */
export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: string };

const refuse = (reason: string): Checked<never> => ({ ok: false, reason });

const ID = /^[\w-]{1,64}$/;
/** Half a surrogate pair, which no file can hold, and NUL, at which the driver cuts a text. */
const UNKEPT = /[\p{Cs}\0]/u;
const MOST_READINGS = 1_000_000;

/** The type of a cell in the database, what a value in an export must be, and what to say where it isn't. */
interface Check {
  readonly type: 'string' | 'number';
  readonly is: (value: unknown) => boolean;
  readonly says: string;
}

/** The driver writes 0 for what is closer to zero than 2^-52 (in mm or ms: nothing), so no row may say so. */
export const CLOSEST_TO_ZERO = 1e-15;
const finite: Check = {
  type: 'number',
  is: (value) => Number.isFinite(value) && (value === 0 || Math.abs(Number(value)) >= CLOSEST_TO_ZERO),
  says: 'not a number, or too close to zero to be kept',
};
const id: Check = {
  type: 'string',
  is: (value) => typeof value === 'string' && ID.test(value),
  says: 'not an id of up to 64 letters, digits, - and _',
};
const from = (least: number, most: number): Check => ({
  type: 'number',
  is: (value) => typeof value === 'number' && Number.isSafeInteger(value) && value >= least && value <= most,
  says: `not a whole number from ${least} to ${most}`,
});
const words: Check = {
  type: 'string',
  is: (value) => typeof value === 'string' && value.length <= 1000 && !UNKEPT.test(value),
  says: 'not text of up to 1000 whole characters without NUL',
};
const unit: Check = {
  type: 'string',
  is: (value) => value === 'mm' || value === 'in',
  says: 'neither mm nor in',
};
const fact: Check = {
  type: 'string',
  is: (value) =>
    isObject(value) &&
    typeof value.kind === 'string' &&
    value.kind.length > 0 &&
    value.kind.length <= 64 &&
    !UNKEPT.test(value.kind),
  says: 'not an object with a kind of 1 to 64 characters',
};

export type Loose = Readonly<Record<string, unknown>>;
export const isObject = (value: unknown): value is Loose => typeof value === 'object' && value !== null;

/** A column of both database and export, where its name is `key`. */
export interface Column<T> extends Check {
  readonly name: keyof T;
  readonly key: string;
}
const column = <T>(name: keyof T, check: Check, key = String(name)): Column<T> => ({ name, key, ...check });

/** All but `kind`, which is in the fact, and `more`. */
export const ENTRY_COLUMNS: readonly Column<EntryRow>[] = [
  column('id', id),
  column('job', id),
  column('n', from(1, Number.MAX_SAFE_INTEGER)),
  column('at', finite, 'atMs'),
  column('readings', from(0, MOST_READINGS)),
  column('fact', fact),
];

/** All but `more`. */
export const READING_COLUMNS: readonly Column<ReadingRow>[] = [
  column('entry', id),
  column('n', from(0, MOST_READINGS - 1)),
  column('text', words),
  column('unit', unit),
  column('value', finite, 'valueMm'),
  column('step', finite, 'stepMm'),
  column('at', finite, 'atMs'),
  column('raw', words),
];

/** Our rows are nested three deep; a much deeper one would crash the program when it is written out again. */
const DEEPEST = 50;
const TOO_DEEP = 'nested too deep';
const isTooDeep = (value: unknown, left = DEEPEST): boolean =>
  isObject(value) && (left === 0 || Object.values(value).some((inner) => isTooDeep(inner, left - 1)));

/** What is wrong with the cells of an exported object; undefined where they are fine. This runs for every row of an import. */
function wrongIn<T>(plain: Loose, columns: readonly Column<T>[]): string | undefined {
  let wrong: string | undefined;
  for (const { key, is, says } of columns)
    if (!is(plain[key])) wrong = wrong === undefined ? `${key}: ${says}` : `${wrong}; ${key}: ${says}`;
  const tooMany = Object.keys(plain).length > columns.length + 1;
  return wrong ?? (tooMany && isTooDeep(plain) ? TOO_DEEP : undefined);
}

/** What no column takes, as JSON; null where there is nothing else. */
function moreIn(plain: Loose, columns: readonly { readonly key: string }[]): string | null {
  if (Object.keys(plain).length <= columns.length + 1) return null;
  const known = new Set(['row', ...columns.map(({ key }) => key)]);
  return JSON.stringify(Object.fromEntries(Object.entries(plain).filter(([key]) => !known.has(key))));
}

const reasonOf = (issues: readonly v.BaseIssue<unknown>[]): string =>
  issues
    .slice(0, 3)
    .map((issue) => `${v.getDotPath(issue) ?? 'row'}: ${issue.message}`)
    .join('; ')
    .slice(0, 300);

type PlainEntry = Omit<EntryRow, 'fact' | 'at'> & {
  readonly atMs: number;
  readonly fact: Loose & { readonly kind: string };
};
type PlainReading = ReadingRow & Readonly<Record<'valueMm' | 'stepMm', Length>> & { readonly atMs: Millis };

/** An entry row and the fact in it; undefined for a fact of a newer program, which is kept but not used. */
export interface ReadEntry {
  readonly row: EntryRow;
  readonly fact: Fact | undefined;
}

/** An entry row from an exported object. */
export function entryRowOf(plain: Loose): Checked<ReadEntry> {
  const wrong = wrongIn(plain, ENTRY_COLUMNS) ?? (isTooDeep(plain.fact, DEEPEST - 1) ? TOO_DEEP : undefined);
  if (wrong !== undefined) return refuse(wrong);
  // Each cell was checked above.
  const { id, job, n, atMs, readings, fact } = plain as unknown as PlainEntry;
  const read = factIn(fact.kind, fact);
  if (!read.ok) return read;
  const cells = { id, job, n, at: atMs, kind: fact.kind, fact: JSON.stringify(fact), readings };
  return { ok: true, value: { row: { ...cells, more: moreIn(plain, ENTRY_COLUMNS) }, fact: read.value } };
}

/** A reading row from an exported object. */
export function readingRowOf(plain: Loose): Checked<ReadingRow> {
  const wrong = wrongIn(plain, READING_COLUMNS);
  if (wrong !== undefined) return refuse(wrong);
  // Each cell was checked above.
  const { entry, n, text, unit, valueMm, stepMm, atMs, raw } = plain as unknown as PlainReading;
  const more = moreIn(plain, READING_COLUMNS);
  return { ok: true, value: { entry, n, text, unit, value: valueMm, step: stepMm, at: atMs, raw, more } };
}

/** A fact: undefined for a kind that only a newer program knows, refused where a value in it can't be used. */
function factIn(kind: string, plain: unknown): Checked<Fact | undefined> {
  if (!KNOWN_FACTS.has(kind)) return { ok: true, value: undefined };
  const checked = v.safeParse(factShape.schema, plain);
  return checked.success
    ? { ok: true, value: checked.output }
    : refuse(`${kind}: ${reasonOf(checked.issues)}`);
}

/** The fact in a row. */
export const readFact = (row: Pick<EntryRow, 'kind' | 'fact'>): Checked<Fact | undefined> =>
  factIn(row.kind, JSON.parse(row.fact));

/** The fact in a row, if it can be used here. */
export function factOf(row: Pick<EntryRow, 'kind' | 'fact'>): Fact | undefined {
  const read = readFact(row);
  return read.ok ? read.value : undefined;
}

/** JSON on one line in which no character moves a cursor; it reads back as the same value. */
export const lineOf = (plain: object): string => forFile(JSON.stringify(plain));

export const FORMAT = 'lidwright-jobs';
export const FORMAT_VERSION = 1;

/** The first row: what the file is, and the version of its rows. */
export const HEADER = lineOf({ row: 'header', format: FORMAT, v: FORMAT_VERSION });

const parsed = (more: string | null): object => (more === null ? {} : Object(JSON.parse(more)));

export const plainOfEntry = ({ id, job, n, at, readings, fact, more }: EntryRow): Loose => ({
  row: 'entry',
  ...{ id, job, n, atMs: at, readings, fact: JSON.parse(fact), ...parsed(more) },
});

export const plainOfReading = (row: ReadingRow): Loose => ({
  row: 'reading',
  ...{ entry: row.entry, ...plainOfKept(row, row.n), ...parsed(row.more) },
});

/** A reading in JSON, without the entry it belongs to. */
export const plainOfKept = ({ text, unit, value, step, at, raw }: KeptReading, n: number): Loose => ({
  ...{ n, text, unit, valueMm: value, stepMm: step, atMs: at, raw },
});

interface EntryRows {
  readonly entry: EntryRow;
  readonly readings: readonly ReadingRow[];
}

function uncheckedRowsOf({ id, job, at, fact, readings }: Entry, n: number): EntryRows {
  const text = JSON.stringify(factShape.toPlain(fact));
  return {
    entry: { id, job, n, at, kind: fact.kind, fact: text, readings: readings.length, more: null },
    readings: readings.map((reading, place) => ({ ...reading, entry: id, n: place, more: null })),
  };
}

/** An entry at place n and its readings as objects of an export, unchecked: a rescue leaves nothing out. */
export function plainRowsOf(entry: Entry, n: number): readonly object[] {
  const rows = uncheckedRowsOf(entry, n);
  return [plainOfEntry(rows.entry), ...rows.readings.map(plainOfReading)];
}

/** The rows of an entry to append at place n; refused where a value in it can't be kept. */
export function rowsOf(entry: Entry, n: number): Checked<EntryRows> {
  const rows = uncheckedRowsOf(entry, n);
  const read = entryRowOf(plainOfEntry(rows.entry));
  if (!read.ok) return read;
  for (const row of rows.readings) {
    const checked = readingRowOf(plainOfReading(row));
    if (!checked.ok) return refuse(`reading ${row.n}: ${checked.reason}`);
  }
  return { ok: true, value: rows };
}

export const readingOf = ({ text, unit, step, value, at, raw }: ReadingRow): KeptReading => ({
  ...{ text, unit, step, value, at, raw },
});
