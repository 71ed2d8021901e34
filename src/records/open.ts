// Opens the job database: looks before it writes, makes what is missing, upgrades older versions, checks it, and sets a damaged one aside.
import { existsSync, renameSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { readFact } from './codec/row.ts';
import { type Database, openDatabase, openToLook } from './database.ts';
import { type Home, makePrivateFile, makePrivateFolder } from './home.ts';
import { DamageFound, ENTRIES, entryIn, numberOfJob, readingRowsOf } from './log.ts';
import { salvage } from './salvage.ts';
import { isAsMade, isForeign, migrate, SCHEMA_VERSION, versionOf } from './schema.ts';
import {
  type Damaged,
  damagedAt,
  type Kept,
  kept,
  notKept,
  orElse,
  type RecordsTrouble,
  TroubleThrown,
  tried,
} from './trouble.ts';

const stamp = (now: Date): string => now.toISOString().slice(0, 19).replace('T', '-').replaceAll(':', '');

/** A free name beside the database: `jobs-damaged-2026-11-25-084439.db`, numbered if that exists. */
function nameBeside(path: string, now: Date): string {
  const stem = join(dirname(path), `${basename(path, '.db')}-damaged-${stamp(now)}`);
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? `${stem}.db` : `${stem}-${number}.db`;
    if (!existsSync(name)) return name;
  }
}

const move = (path: string, aside: string): boolean =>
  orElse(false, () => {
    for (const ending of ['-wal', '-shm', '']) {
      if (existsSync(path + ending)) renameSync(path + ending, aside + ending);
    }
    return true;
  });

/** Sets the database at `path` aside (it must be closed) and exports what can be read of it. */
export function setAside(path: string, detail: string, now: Date = new Date()): Damaged {
  const aside = nameBeside(path, now);
  const damaged = damagedAt(path, detail);
  return move(path, aside) ? { ...damaged, setAside: aside, salvage: salvage(aside) } : damaged;
}

/** Databases up to this size are checked as a whole at each start; one turner's bench stays below it for years. */
const CHECKED_WHOLE = 4 * 1024 * 1024;

/** Why this program leaves a database alone: it is a newer lidwright's, or another program's. */
export function notOursAt(path: string, database: Database): RecordsTrouble | undefined {
  const found = versionOf(database);
  if (found > SCHEMA_VERSION) return { kind: 'newer', path, found, known: SCHEMA_VERSION };
  return isForeign(database) ? { kind: 'failed', path, detail: 'it belongs to another program' } : undefined;
}

/** Looks at a database without being able to change it, and refuses one that isn't ours or is damaged. */
function look(path: string): void {
  const database = openToLook(path);
  try {
    const trouble = notOursAt(path, database);
    if (trouble) throw new TroubleThrown(trouble);
    refuseDamage(database, path);
  } finally {
    database.close();
  }
}

/** Refuses a file that is shorter than it says, or, if it is small, where the database's own check finds damage. */
function refuseDamage(database: Database, path: string): void {
  const { size } = statSync(path);
  const pages = Number(database.get('PRAGMA page_count')?.page_count);
  const pageSize = Number(database.get('PRAGMA page_size')?.page_size);
  const pending = statSync(`${path}-wal`, { throwIfNoEntry: false })?.size ?? 0;
  if (pending === 0 && size < pages * pageSize)
    throw new DamageFound(`${size} bytes of ${pages * pageSize} are left`);
  if (size > CHECKED_WHOLE && isAsMade(database)) return;
  const wrong = wrongWith(database);
  if (wrong !== null) throw new DamageFound(wrong);
}

function openAt(path: string): Database {
  makePrivateFolder(dirname(path));
  if (existsSync(path) && statSync(path).size > 0) look(path);
  else makePrivateFile(path);
  const database = openDatabase(path);
  try {
    migrate(database);
  } catch (error) {
    database.abandon();
    throw error;
  }
  return database;
}

/** The database, ready for use, and what went wrong if an earlier one had to be set aside. */
interface Opened {
  readonly database: Database;
  readonly notices: readonly RecordsTrouble[];
}

/** Opens the database of a home. A damaged one is set aside once, and a new one made. */
export function openHome(home: Home): Kept<Opened> {
  const path = home.database;
  const attempt = (): Kept<Database> => tried(path, () => openAt(path));
  const first = attempt();
  if (first.ok) return kept({ database: first.value, notices: [] });
  if (first.trouble.kind !== 'damaged') return first;
  const notice = setAside(path, first.trouble.detail);
  if (notice.setAside === null) return notKept(notice);
  const second = attempt();
  return second.ok ? kept({ database: second.value, notices: [notice] }) : second;
}

interface Soundness {
  readonly entries: number;
  readonly readings: number;
  /** Entries with a value that this program can't use: their jobs by number, and the value. */
  readonly unusable: readonly { readonly job: number; readonly reason: string }[];
  /** What is wrong, in a few words; null for a sound database. */
  readonly wrong: string | null;
}

/** What is wrong with the structure of a database; null if nothing is. */
function wrongWith(database: Database): string | null {
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
