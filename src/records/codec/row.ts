// Rows of the log as they are kept and exported: plain and checked. A field that isn't known here is never lost.

import * as v from 'valibot';
import type { Entry, Fact, KeptReading } from '../../core/bench/entry.ts';
import { forFile } from '../../core/safe-text.ts';
import { millis, mm } from '../../core/units.ts';
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
  /** How many readings stand behind it. */
  readonly readings: number;
  readonly more: string | null;
}

/** One reading, belonging to an entry by the entry's id and its own place. Lengths in mm, time in the board's milliseconds. */
export interface ReadingRow {
  readonly entry: string;
  readonly n: number;
  readonly text: string;
  readonly unit: 'mm' | 'in';
  readonly value: number;
  readonly step: number;
  readonly at: number;
  readonly raw: string;
  readonly more: string | null;
}

/** A row, or in a few words why it was refused. */
export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: string };

const ID = /^[\w-]{1,64}$/;
/** Half a surrogate pair, which no file can hold, and NUL, at which the driver cuts a text. */
const UNKEPT = /[\p{Cs}\0]/u;
const MOST_READINGS = 1_000_000;

/** What a cell must be, and what to say where it isn't. */
interface Check {
  readonly is: (value: unknown) => boolean;
  readonly says: string;
}

/** The driver writes 0 for what is closer to zero than 2^-52 (in mm or ms: nothing), so no row may say so. */
export const CLOSEST_TO_ZERO = 1e-15;
const finite: Check = {
  is: (value) => Number.isFinite(value) && (value === 0 || Math.abs(Number(value)) >= CLOSEST_TO_ZERO),
  says: 'not a number, or too close to zero to be kept',
};
const id: Check = {
  is: (value) => typeof value === 'string' && ID.test(value),
  says: 'not an id of up to 64 letters, digits, - and _',
};
const from = (least: number, most: number): Check => ({
  is: (value) => typeof value === 'number' && Number.isSafeInteger(value) && value >= least && value <= most,
  says: `not a whole number from ${least} to ${most}`,
});
const words: Check = {
  is: (value) => typeof value === 'string' && value.length <= 1000 && !UNKEPT.test(value),
  says: 'not text of up to 1000 whole characters without NUL',
};
const unit: Check = { is: (value) => value === 'mm' || value === 'in', says: 'neither mm nor in' };

const isSomeFact = (value: unknown): boolean =>
  typeof value === 'object' &&
  value !== null &&
  'kind' in value &&
  typeof value.kind === 'string' &&
  value.kind.length > 0 &&
  value.kind.length <= 64 &&
  !UNKEPT.test(value.kind);

const fact: Check = { is: isSomeFact, says: 'not an object with a kind of 1 to 64 characters' };

interface EntryCells {
  readonly id: string;
  readonly job: string;
  readonly n: number;
  readonly atMs: number;
  readonly readings: number;
  readonly fact: { readonly kind: string };
}
const ENTRY: { readonly [key in keyof EntryCells]: Check } = {
  id,
  job: id,
  n: from(1, Number.MAX_SAFE_INTEGER),
  atMs: finite,
  readings: from(0, MOST_READINGS),
  fact,
};

interface ReadingCells {
  readonly entry: string;
  readonly n: number;
  readonly text: string;
  readonly unit: 'mm' | 'in';
  readonly valueMm: number;
  readonly stepMm: number;
  readonly atMs: number;
  readonly raw: string;
}
const READING: { readonly [key in keyof ReadingCells]: Check } = {
  entry: id,
  n: from(0, MOST_READINGS - 1),
  text: words,
  unit,
  valueMm: finite,
  stepMm: finite,
  atMs: finite,
  raw: words,
};

const ENTRY_CELLS = Object.entries<Check>(ENTRY);
const READING_CELLS = Object.entries<Check>(READING);
const ENTRY_KEYS = ['row', ...Object.keys(ENTRY)];
const READING_KEYS = ['row', ...Object.keys(READING)];

/** What is wrong with an object's cells; undefined where they are fine. This runs for every row of an import. */
function wrongWith(plain: Loose, cells: readonly (readonly [string, Check])[]): string | undefined {
  let wrong: string | undefined;
  for (const [key, { is, says }] of cells)
    if (!is(plain[key])) wrong = wrong === undefined ? `${key}: ${says}` : `${wrong}; ${key}: ${says}`;
  return wrong;
}

/** Rows of ours are three deep; what is much deeper would end the program where it is written out again. */
const DEEPEST = 50;
const isTooDeep = (value: unknown, left = DEEPEST): boolean =>
  typeof value === 'object' &&
  value !== null &&
  (left === 0 || Object.values(value).some((inner) => isTooDeep(inner, left - 1)));

export type Loose = Readonly<Record<string, unknown>>;

/** The keys of an object that aren't known here, as JSON; null where all are known. */
function moreOf(plain: Loose, known: readonly string[]): string | null {
  if (Object.keys(plain).length <= known.length && known.every((key) => key in plain)) return null;
  const rest = Object.entries(plain).filter(([key]) => !known.includes(key));
  return rest.length === 0 ? null : JSON.stringify(Object.fromEntries(rest));
}

const reasonOf = (issues: readonly v.BaseIssue<unknown>[]): string =>
  issues
    .slice(0, 3)
    .map((issue) => `${v.getDotPath(issue) ?? 'row'}: ${issue.message}`)
    .join('; ')
    .slice(0, 300);

const refuse = (reason: string): Checked<never> => ({ ok: false, reason });

/** An entry row and the fact in it; undefined for a fact of a newer program, which is kept but not used. */
export interface ReadEntry {
  readonly row: EntryRow;
  readonly fact: Fact | undefined;
}

/** An entry row from an exported object. */
export function entryRowOf(plain: Loose): Checked<ReadEntry> {
  const wrong = wrongWith(plain, ENTRY_CELLS);
  if (wrong !== undefined) return refuse(wrong);
  // Each cell was checked above.
  const { id, job, n, atMs, readings, fact } = plain as unknown as EntryCells;
  if (isTooDeep(plain)) return refuse('nested too deep');
  const known = KNOWN_FACTS.has(fact.kind) ? v.safeParse(factShape.schema, plain.fact) : undefined;
  if (known?.success === false) return refuse(`${fact.kind}: ${reasonOf(known.issues)}`);
  const text = JSON.stringify(plain.fact);
  const more = moreOf(plain, ENTRY_KEYS);
  const row = { id, job, n, at: atMs, kind: fact.kind, fact: text, readings, more };
  return { ok: true, value: { row, fact: known?.output } };
}

/** A reading row from an exported object. */
export function readingRowOf(plain: Loose): Checked<ReadingRow> {
  const wrong = wrongWith(plain, READING_CELLS);
  if (wrong !== undefined) return refuse(wrong);
  // Each cell was checked above.
  const { entry, n, text, unit, valueMm, stepMm, atMs, raw } = plain as unknown as ReadingCells;
  const hasMore = Object.keys(plain).length > READING_KEYS.length;
  if (hasMore && isTooDeep(plain)) return refuse('nested too deep');
  const more = moreOf(plain, READING_KEYS);
  return { ok: true, value: { entry, n, text, unit, value: valueMm, step: stepMm, at: atMs, raw, more } };
}

const moreIn = (more: string | null): object => (more === null ? {} : Object(JSON.parse(more)));

/** JSON on one line in which no character moves a cursor; it reads back as the same value. */
export const lineOf = (plain: object): string => forFile(JSON.stringify(plain));

export const FORMAT = 'lidwright-jobs';
export const FORMAT_VERSION = 1;

/** The first row: what the file is, and the version of its rows. */
export const HEADER = lineOf({ row: 'header', format: FORMAT, v: FORMAT_VERSION });

export const plainOfEntry = (row: EntryRow): object => {
  const { id, job, n, at, readings } = row;
  const fact: unknown = JSON.parse(row.fact);
  return { row: 'entry', id, job, n, atMs: at, readings, fact, ...moreIn(row.more) };
};

export const plainOfReading = (row: ReadingRow): object => {
  const { entry, n, text, unit, value, step, at, raw } = row;
  const lengths = { valueMm: value, stepMm: step };
  return { row: 'reading', entry, n, text, unit, ...lengths, atMs: at, raw, ...moreIn(row.more) };
};

const plainEntryAt = ({ id, job, at, fact, readings }: Entry, n: number): Loose => ({
  id,
  job,
  n,
  atMs: at,
  readings: readings.length,
  fact: factShape.toPlain(fact),
});

/** An entry at place n and its readings as objects of an export, unchecked: a rescue leaves nothing out. */
export const plainRowsOf = (entry: Entry, n: number): readonly object[] => [
  { row: 'entry', ...plainEntryAt(entry, n) },
  ...entry.readings.map((reading, place) => ({
    row: 'reading',
    entry: entry.id,
    ...plainOfKept(reading, place),
  })),
];

/** The rows of an entry to append at place n; refused where a value in it can't be kept. */
export function rowsOf(
  entry: Entry,
  n: number,
): Checked<{ entry: EntryRow; readings: readonly ReadingRow[] }> {
  const { id, readings } = entry;
  const row = entryRowOf(plainEntryAt(entry, n));
  if (!row.ok) return row;
  const rows: ReadingRow[] = [];
  for (const [place, reading] of readings.entries()) {
    const checked = readingRowOf({ entry: id, ...plainOfKept(reading, place) });
    if (!checked.ok) return refuse(`reading ${place}: ${checked.reason}`);
    rows.push(checked.value);
  }
  return { ok: true, value: { entry: row.value.row, readings: rows } };
}

/** A reading in JSON, without the entry it belongs to. */
export const plainOfKept = (reading: KeptReading, n: number): Loose => ({
  n,
  text: reading.text,
  unit: reading.unit,
  valueMm: reading.value,
  stepMm: reading.step,
  atMs: reading.at,
  raw: reading.raw,
});

/** The fact in a row: undefined for a kind that only a newer program knows, refused where a value in it can't be used. */
export function readFact(row: Pick<EntryRow, 'kind' | 'fact'>): Checked<Fact | undefined> {
  if (!KNOWN_FACTS.has(row.kind)) return { ok: true, value: undefined };
  const checked = v.safeParse(factShape.schema, JSON.parse(row.fact));
  return checked.success
    ? { ok: true, value: checked.output }
    : refuse(`${row.kind}: ${reasonOf(checked.issues)}`);
}

/** The fact in a row, if it can be used here. */
export function factOf(row: Pick<EntryRow, 'kind' | 'fact'>): Fact | undefined {
  const read = readFact(row);
  return read.ok ? read.value : undefined;
}

export const readingOf = (row: ReadingRow): KeptReading => ({
  text: row.text,
  unit: row.unit,
  step: mm(row.step),
  value: mm(row.value),
  at: millis(row.at),
  raw: row.raw,
});
