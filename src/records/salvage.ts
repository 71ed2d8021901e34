// Reads what can be read of a damaged database, page by page, and exports it to a file beside it; never writes to the damaged files.
// A row counts when its checksum is right, wherever it was found.
import { closeSync, openSync, rmSync, writeFileSync } from 'node:fs';
import { type EntryRow, HEADER, lineOf, plainOfEntry, plainOfReading } from './codec/row.ts';
import type { Cell, Row } from './database.ts';
import { DamageFound, entryIn, readingIn } from './log.ts';
import { orNothing, PageFile, type RawRow, rowsIn } from './pages.ts';
import { fileFailureOf, type Salvage } from './trouble.ts';

/** The cells of our two tables in the order of their definitions, which is how a page holds them. */
const ENTRY = ['seq', 'id', 'job', 'n', 'at', 'kind', 'fact', 'readings', 'here', 'more', 'crc'];
const READING = ['entry', 'n', 'text', 'unit', 'value', 'step', 'at', 'raw', 'more', 'crc'];

const named = (columns: readonly string[], cells: readonly Cell[]): Row =>
  Object.fromEntries(columns.map((column, at) => [column, cells[at]]));

function* rawRows(file: PageFile): Generator<RawRow> {
  for (const { number, page } of file.pages()) yield* rowsIn(page, number === 1, (by) => file.pageBy(by));
}

/** Ids that may belong to a job's number: from the table of jobs and from its index. */
function jobIds(file: PageFile): ReadonlyMap<number, readonly string[]> {
  const ids = new Map<number, string[]>();
  for (const { number, cells } of rawRows(file)) {
    const [first, second] = cells;
    if (cells.length !== 2) continue;
    if (number !== null && typeof second === 'string') ids.set(number, [...(ids.get(number) ?? []), second]);
    if (number === null && typeof first === 'string' && typeof second === 'number')
      ids.set(second, [...(ids.get(second) ?? []), first]);
  }
  return ids;
}

interface Known {
  readonly id: string;
  readonly job: string;
}

type Write = (plain: object) => void;

/** Writes each sound entry once; returns them by their numbers in the database. */
function salvageEntries(file: PageFile, write: Write): ReadonlyMap<number, Known> {
  const jobs = jobIds(file);
  const found = new Map<number, Known>();
  for (const { number, cells } of rawRows(file)) {
    if (number === null || cells.length !== ENTRY.length || found.has(number)) continue;
    const row = { ...named(ENTRY, cells), seq: number };
    const entry = soundEntry(row, jobs.get(Number(cells[2])) ?? []);
    if (!entry) continue;
    write(plainOfEntry(entry));
    found.set(number, { id: entry.id, job: entry.job });
  }
  return found;
}

const soundEntry = (row: Row, jobs: readonly string[]): EntryRow | undefined =>
  jobs
    .map((job) => orNothing(DamageFound, () => entryIn({ ...row, job }).row))
    .find((entry) => entry !== undefined);

/** Writes each sound reading of these entries once; returns how many. */
function salvageReadings(file: PageFile, entries: ReadonlyMap<number, Known>, write: Write): number {
  let count = 0;
  for (const { number, cells } of rawRows(file)) {
    if (number !== null || cells.length !== READING.length) continue;
    const entry = entries.get(Number(cells[0]));
    const reading = entry && orNothing(DamageFound, () => readingIn(named(READING, cells), entry.id));
    if (!reading) continue;
    write(plainOfReading(reading));
    count += 1;
  }
  return count;
}

function exportTo(target: number, file: PageFile): Omit<Salvage, 'path'> {
  const write: Write = (plain) => writeFileSync(target, `${lineOf(plain)}\n`);
  writeFileSync(target, `${HEADER}\n`);
  const entries = salvageEntries(file, write);
  const readings = salvageReadings(file, entries, write);
  const jobs = new Set([...entries.values()].map(({ job }) => job)).size;
  return { jobs, entries: entries.size, readings };
}

/** Exports what can be read of the database at `path` to a `.ndjson` file beside it; null where nothing can be read or written. */
export function salvage(path: string): Salvage | null {
  const beside = path.replace(/\.db$/, '.ndjson');
  try {
    const target = openSync(beside, 'wx', 0o600);
    const file = new PageFile(path);
    try {
      const counts = exportTo(target, file);
      if (counts.entries > 0) return { path: beside, ...counts };
    } finally {
      file.close();
      closeSync(target);
    }
  } catch (error) {
    // Trouble with the disk or the folder; anything else is our own mistake.
    if (!fileFailureOf(error)) throw error;
  }
  rmSync(beside, { force: true });
  return null;
}
