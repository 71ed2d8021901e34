// Opens the job database: looks before it touches, makes what is missing, lifts older versions, and names what is in the way.
import { existsSync, renameSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { wrongWith } from './check.ts';
import { type Database, openDatabase, openToLook } from './database.ts';
import { type Home, makePrivateFile, makePrivateFolder } from './home.ts';
import { DamageFound } from './log.ts';
import { salvage } from './salvage.ts';
import { isAsMade, isForeign, migrate, SCHEMA_VERSION, versionOf } from './schema.ts';
import { type Kept, kept, notKept, type RecordsTrouble, TroubleThrown, troubleOf } from './trouble.ts';

const stamp = (now: Date): string => now.toISOString().slice(0, 19).replace('T', '-').replaceAll(':', '');

/** A free name beside the database: `jobs-damaged-2026-11-25-084439.db`, numbered when taken. */
function nameBeside(path: string, now: Date): string {
  const stem = join(dirname(path), `${basename(path, '.db')}-damaged-${stamp(now)}`);
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? `${stem}.db` : `${stem}-${number}.db`;
    if (!existsSync(name)) return name;
  }
}

function move(path: string, aside: string): boolean {
  try {
    for (const ending of ['-wal', '-shm', '']) {
      if (existsSync(path + ending)) renameSync(path + ending, aside + ending);
    }
    return true;
  } catch {
    return false;
  }
}

/** Sets the database at `path` aside (it must be closed here) and exports what can be read of it. */
export function setAside(path: string, detail: string, now: Date = new Date()): RecordsTrouble {
  const aside = nameBeside(path, now);
  if (!move(path, aside)) return { kind: 'damaged', path, detail, setAside: null, salvage: null };
  return { kind: 'damaged', path, detail, setAside: aside, salvage: salvage(aside) };
}

/** Databases up to this size are checked whole at each start; a bench of one turner stays below it for years. */
const CHECKED_WHOLE = 4 * 1024 * 1024;

/**
 * Looks at a database without being able to change it: refuses one of a newer program or of another one, and damage,
 * before anything in it is touched.
 */
function look(path: string): void {
  const database = openToLook(path);
  try {
    const found = versionOf(database);
    if (found > SCHEMA_VERSION)
      throw new TroubleThrown({ kind: 'newer', path, found, known: SCHEMA_VERSION });
    if (isForeign(database))
      throw new TroubleThrown({ kind: 'failed', path, detail: 'it is the database of another program' });
    refuseDamage(database, path);
  } finally {
    database.close();
  }
}

/** Cheap signs of damage: a file shorter than it says, or, where it is small, anything the database's own check finds. */
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

/** The database, ready for use, and what was in the way of it when it had to be set aside. */
export interface Opened {
  readonly database: Database;
  readonly notices: readonly RecordsTrouble[];
}

/** Opens the database of a home. Damage is set aside once, and a new database begun. */
export function openHome(home: Home): Kept<Opened> {
  const path = home.database;
  const first = attempt(path);
  if (first.ok || first.trouble.kind !== 'damaged') return first;
  const notice = setAside(path, first.trouble.detail);
  if (notice.kind !== 'damaged' || notice.setAside === null) return notKept(notice);
  const second = attempt(path);
  return second.ok ? kept({ ...second.value, notices: [notice] }) : second;
}

function attempt(path: string): Kept<Opened> {
  try {
    return kept({ database: openAt(path), notices: [] });
  } catch (error) {
    const trouble = troubleOf(error, path);
    if (!trouble) throw error;
    return notKept(trouble);
  }
}
