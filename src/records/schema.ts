// The tables, step by step: each step upgrades a database by one version, and none changes a row of the log.
import { crc32 } from 'node:zlib';
import type { Database } from './database.ts';
import { rebuildSummaries } from './list.ts';

/** Marks the file as ours (`PRAGMA application_id`): "LIDW". */
const APPLICATION_ID = 0x4c494457;

interface Step {
  readonly sql: string;
  /** What SQL alone can't derive. */
  readonly afterwards?: (database: Database) => void;
}

const guard = (table: string, act: 'UPDATE' | 'DELETE'): string => `
  CREATE TRIGGER ${table}_no_${act.toLowerCase()} BEFORE ${act} ON ${table}
  BEGIN SELECT RAISE(ABORT, 'rows of ${table} are only ever added'); END;`;

/** Version 1: the log. Rows are only added; triggers refuse anything else. */
const LOG: Step = {
  sql: `
  CREATE TABLE job (number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE) STRICT;
  CREATE TABLE entry (
    seq INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    job INTEGER NOT NULL REFERENCES job (number),
    n INTEGER NOT NULL,
    at REAL NOT NULL,
    kind TEXT NOT NULL,
    fact TEXT NOT NULL,
    readings INTEGER NOT NULL,
    here INTEGER NOT NULL CHECK (here IN (0, 1)),
    more TEXT,
    crc INTEGER NOT NULL
  ) STRICT;
  CREATE INDEX entry_in_order ON entry (job, n, at, id);
  CREATE TABLE reading (
    entry INTEGER NOT NULL REFERENCES entry (seq),
    n INTEGER NOT NULL,
    text TEXT NOT NULL,
    unit TEXT NOT NULL CHECK (unit IN ('mm', 'in')),
    value REAL NOT NULL,
    step REAL NOT NULL,
    at REAL NOT NULL,
    raw TEXT NOT NULL,
    more TEXT,
    crc INTEGER NOT NULL,
    PRIMARY KEY (entry, n)
  ) STRICT, WITHOUT ROWID;
  ${['job', 'entry', 'reading'].map((table) => guard(table, 'UPDATE') + guard(table, 'DELETE')).join('')}`,
};

/** Version 2: one summary row per job, so that a list doesn't fold every log. */
const SUMMARY: Step = {
  sql: `
  CREATE TABLE summary (
    job INTEGER PRIMARY KEY REFERENCES job (number),
    id TEXT NOT NULL,
    name TEXT NOT NULL,
    begun REAL NOT NULL,
    touched REAL NOT NULL,
    stage TEXT NOT NULL,
    status TEXT NOT NULL CHECK (status IN ('open', 'runs', 'given-up', 'untried')),
    removed INTEGER NOT NULL CHECK (removed IN (0, 1)),
    wood TEXT,
    unit TEXT NOT NULL,
    fit TEXT NOT NULL,
    bore REAL,
    target REAL,
    spigot REAL,
    clearance REAL,
    word TEXT,
    trials INTEGER NOT NULL,
    verdict TEXT,
    look TEXT NOT NULL,
    here INTEGER,
    crc INTEGER NOT NULL
  ) STRICT;
  CREATE INDEX summary_by_touch ON summary (removed, touched DESC, job DESC, look);
  CREATE INDEX summary_by_status ON summary (removed, status, touched DESC, job DESC);
  CREATE INDEX summary_by_name ON summary (name);
  CREATE INDEX summary_here ON summary (here) WHERE here IS NOT NULL;
  CREATE INDEX summary_left_open ON summary (here) WHERE status = 'open' AND removed = 0;`,
  afterwards: rebuildSummaries,
};

const STEPS: readonly Step[] = [LOG, SUMMARY];

/** The version this program writes. */
export const SCHEMA_VERSION = STEPS.length;

export const versionOf = (database: Database): number =>
  Number(database.get('PRAGMA user_version')?.user_version);

/** A checksum over the definitions of our tables, indexes and triggers, as the database keeps them. */
const schemaSum = (database: Database): number =>
  crc32(
    database
      .all(
        `SELECT sql FROM sqlite_schema
         WHERE sql IS NOT NULL AND tbl_name IN ('job', 'entry', 'reading', 'summary') ORDER BY sql`,
      )
      .map(({ sql }) => sql)
      .join('\n'),
  );

/** The checksums of versions 1, 2, ...; a changed definition is damage that no other check sees. */
const SCHEMA_SUMS: readonly number[] = [1274703160, 2681236509];

/** True for a file with tables that this program didn't make. */
export const isForeign = (database: Database): boolean =>
  Number(database.get('PRAGMA application_id')?.application_id) !== APPLICATION_ID &&
  !SCHEMA_SUMS.includes(schemaSum(database)) &&
  database.get('SELECT 1 FROM sqlite_schema LIMIT 1') !== undefined;

/** True for a known version whose definitions are unchanged. */
export function isAsMade(database: Database): boolean {
  const version = versionOf(database);
  const empty = database.get('SELECT 1 FROM sqlite_schema LIMIT 1') === undefined;
  return version === 0 ? empty : SCHEMA_SUMS[version - 1] === schemaSum(database);
}

/** Upgrades a database to this program's version, each step whole or not at all. */
export function migrate(database: Database): void {
  while (versionOf(database) < SCHEMA_VERSION) database.change(() => stepUp(database));
}

function stepUp(database: Database): void {
  const version = versionOf(database);
  const step = STEPS[version];
  if (!step) return;
  database.script(step.sql);
  step.afterwards?.(database);
  database.script(`PRAGMA application_id = ${APPLICATION_ID}; PRAGMA user_version = ${version + 1}`);
}
