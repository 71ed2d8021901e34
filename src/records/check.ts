// Checks a whole database: its structure, its definitions and the checksum of every row. For the doctor, not for every start.
import { readFact } from './codec/row.ts';
import type { Database } from './database.ts';
import { DamageFound, ENTRIES, entryIn, numberOfJob, readingRowsOf } from './log.ts';
import { isAsMade } from './schema.ts';

export interface Soundness {
  readonly entries: number;
  readonly readings: number;
  /** Entries with a value that this program can't use: their jobs by number, and the value. */
  readonly unusable: readonly { readonly job: number; readonly reason: string }[];
  /** What is wrong, in a few words; null for a sound database. */
  readonly wrong: string | null;
}

/** What is wrong with the structure of a database; null if nothing is. */
export function wrongWith(database: Database): string | null {
  if (!isAsMade(database)) return "its tables aren't as lidwright made them";
  const found = database.get('PRAGMA integrity_check(1)')?.integrity_check;
  if (found !== 'ok') return String(found).split('\n')[0] ?? 'its structure is broken';
  return database.get('PRAGMA foreign_key_check') ? 'a row belongs to no entry or job' : null;
}

/** Reads the whole database and says what is wrong with it. Throws the driver's error where it can't be read at all. */
export function checkAll(database: Database): Soundness {
  const wrong = wrongWith(database);
  const unusable: { job: number; reason: string }[] = [];
  const counts = { entries: 0, readings: 0, unusable };
  if (wrong !== null) return { ...counts, wrong };
  try {
    for (const { seq } of database.all('SELECT seq FROM entry ORDER BY seq')) {
      const row = database.get(`${ENTRIES} WHERE e.seq = ?`, Number(seq));
      if (!row) throw new DamageFound(`entry ${seq} belongs to no job`);
      const entry = entryIn(row);
      const read = readFact(entry.row);
      if (!read.ok) unusable.push({ job: Number(numberOfJob(database, entry.row.job)), reason: read.reason });
      counts.readings += readingRowsOf(database, entry).length;
      counts.entries += 1;
    }
    return { ...counts, wrong: null };
  } catch (error) {
    if (!(error instanceof DamageFound)) throw error;
    return { ...counts, wrong: error.message };
  }
}
