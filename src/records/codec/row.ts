// The rows of the log as they are kept and exported: plain, checked, and never losing a field that is not known here.
import * as v from 'valibot';
import type { Entry, Fact, KeptReading } from '../../core/bench/entry.ts';
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

/** A row, or in a few words why it is none. */
export type Checked<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: string };

const ID = /^[\w-]{1,64}$/;
const HALF_CHARACTER = /\p{Cs}/u;
const MOST_READINGS = 1_000_000;
const finite = v.pipe(v.number(), v.finite());
const id = v.pipe(v.string(), v.regex(ID, 'an id of letters, digits, - and _'));
const count = v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(Number.MAX_SAFE_INTEGER));
const words = v.pipe(
  v.string(),
  v.maxLength(1000),
  v.check((value) => !HALF_CHARACTER.test(value), 'text with half a character in it'),
);

const entrySchema = v.object({
  id,
  job: id,
  n: v.pipe(count, v.minValue(1)),
  atMs: finite,
  readings: v.pipe(count, v.maxValue(MOST_READINGS)),
  fact: v.looseObject({ kind: v.pipe(v.string(), v.minLength(1), v.maxLength(64)) }),
});

const readingSchema = v.object({
  entry: id,
  n: v.pipe(count, v.maxValue(MOST_READINGS - 1)),
  text: words,
  unit: v.picklist(['mm', 'in']),
  valueMm: finite,
  stepMm: finite,
  atMs: finite,
  raw: words,
});

const ENTRY_KEYS = ['row', ...Object.keys(entrySchema.entries)];
const READING_KEYS = ['row', ...Object.keys(readingSchema.entries)];

type Loose = Readonly<Record<string, unknown>>;

/** What of an object is not among the keys known here, as JSON; null when nothing is. */
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

/** An entry row from an exported object. */
export function entryRowOf(plain: Loose): Checked<EntryRow> {
  const checked = v.safeParse(entrySchema, plain);
  if (!checked.success) return refuse(reasonOf(checked.issues));
  const { id, job, n, atMs, readings, fact } = checked.output;
  if (KNOWN_FACTS.has(fact.kind)) {
    const known = v.safeParse(factShape.schema, plain.fact);
    if (!known.success) return refuse(`${fact.kind}: ${reasonOf(known.issues)}`);
  }
  const text = JSON.stringify(plain.fact);
  const more = moreOf(plain, ENTRY_KEYS);
  return { ok: true, value: { id, job, n, at: atMs, kind: fact.kind, fact: text, readings, more } };
}

/** A reading row from an exported object. */
export function readingRowOf(plain: Loose): Checked<ReadingRow> {
  const checked = v.safeParse(readingSchema, plain);
  if (!checked.success) return refuse(reasonOf(checked.issues));
  const { entry, n, text, unit, valueMm, stepMm, atMs, raw } = checked.output;
  const more = moreOf(plain, READING_KEYS);
  return { ok: true, value: { entry, n, text, unit, value: valueMm, step: stepMm, at: atMs, raw, more } };
}

const moreIn = (more: string | null): object => (more === null ? {} : Object(JSON.parse(more)));

export const lineOfEntry = (row: EntryRow): string => {
  const { id, job, n, at, readings } = row;
  const fact: unknown = JSON.parse(row.fact);
  return JSON.stringify({ row: 'entry', id, job, n, atMs: at, readings, fact, ...moreIn(row.more) });
};

export const lineOfReading = (row: ReadingRow): string => {
  const { entry, n, text, unit, value, step, at, raw } = row;
  const lengths = { valueMm: value, stepMm: step };
  return JSON.stringify({
    row: 'reading',
    entry,
    n,
    text,
    unit,
    ...lengths,
    atMs: at,
    raw,
    ...moreIn(row.more),
  });
};

/** The rows of an entry that is to be appended at place n; refused when a number in it is none, or a text is too long. */
export function rowsOf(
  entry: Entry,
  n: number,
): Checked<{ entry: EntryRow; readings: readonly ReadingRow[] }> {
  const { id, job, at, fact, readings } = entry;
  const plain = { id, job, n, atMs: at, readings: readings.length, fact: factShape.toPlain(fact) };
  const row = entryRowOf(plain);
  if (!row.ok) return row;
  const rows: ReadingRow[] = [];
  for (const [place, reading] of readings.entries()) {
    const checked = readingRowOf(plainReading(id, place, reading));
    if (!checked.ok) return refuse(`reading ${place}: ${checked.reason}`);
    rows.push(checked.value);
  }
  return { ok: true, value: { entry: row.value, readings: rows } };
}

const plainReading = (entry: string, n: number, reading: KeptReading): Loose => ({
  entry,
  n,
  text: reading.text,
  unit: reading.unit,
  valueMm: reading.value,
  stepMm: reading.step,
  atMs: reading.at,
  raw: reading.raw,
});

/** The fact in a row; undefined when a newer program wrote one that is not known here. */
export function factOf(row: Pick<EntryRow, 'kind' | 'fact'>): Fact | undefined {
  if (!KNOWN_FACTS.has(row.kind)) return undefined;
  const checked = v.safeParse(factShape.schema, JSON.parse(row.fact));
  return checked.success ? checked.output : undefined;
}

export const readingOf = (row: ReadingRow): KeptReading => ({
  text: row.text,
  unit: row.unit,
  step: mm(row.step),
  value: mm(row.value),
  at: millis(row.at),
  raw: row.raw,
});
