// The only file that knows the database driver: a small interface to it, with the settings that make a commit durable.
import { DatabaseSync, type DatabaseSyncInstance, type StatementSyncInstance } from '@photostructure/sqlite';

export type Cell = string | number | null;
export type Row = Readonly<Record<string, unknown>>;

/** What failed, in our words; anything else is a programmer's mistake and stays thrown. */
export type DatabaseFailure = 'locked' | 'disk-full' | 'read-only' | 'damaged' | 'failed';

/** How long a statement waits for another program before it fails. */
const BUSY_MS = 2000;

export class Database {
  readonly #driver: DatabaseSyncInstance;
  readonly #statements = new Map<string, StatementSyncInstance>();

  constructor(driver: DatabaseSyncInstance) {
    this.#driver = driver;
  }

  #statement(sql: string): StatementSyncInstance {
    const known = this.#statements.get(sql);
    if (known) return known;
    const made = this.#driver.prepare(sql);
    this.#statements.set(sql, made);
    return made;
  }

  /** Runs one statement; returns how many rows it changed, and the last row's number. */
  run(sql: string, ...cells: readonly Cell[]) {
    const { changes, lastInsertRowid } = this.#statement(sql).run(...cells);
    return { changes, last: Number(lastInsertRowid) };
  }

  get(sql: string, ...cells: readonly Cell[]): Row | undefined {
    return this.#statement(sql).get(...cells);
  }

  all(sql: string, ...cells: readonly Cell[]): readonly Row[] {
    return this.#statement(sql).all(...cells);
  }

  /** Several statements without parameters. */
  script(sql: string): void {
    this.#driver.exec(sql);
  }

  /** All or nothing, durable when it returns. Takes the write lock at once. */
  change<T>(work: () => T): T {
    return this.#within('BEGIN IMMEDIATE', work);
  }

  /** A view that doesn't change while it is read. */
  view<T>(work: () => T): T {
    return this.#within('BEGIN', work);
  }

  #within<T>(begin: string, work: () => T): T {
    this.#statement(begin).run();
    try {
      const value = work();
      this.#statement('COMMIT').run();
      return value;
    } catch (error) {
      if (this.#driver.isTransaction) this.#statement('ROLLBACK').run();
      throw error;
    }
  }

  /** Moves the write-ahead log into the database, except what somebody else still reads, and closes. */
  close(): void {
    if (!this.#driver.isOpen) return;
    // The driver ends its statements, and with them the connection, only when they are collected: the log would stay until then.
    try {
      this.#driver.exec('PRAGMA busy_timeout = 0; PRAGMA wal_checkpoint(TRUNCATE)');
    } catch {
      // What is in the write-ahead log is safe there: the next opening reads it.
    }
    this.#driver.close();
  }

  /** Closes a damaged database that is then moved, without writing to it. */
  abandon(): void {
    if (this.#driver.isOpen) this.#driver.close();
  }
}

/** Opens a database without changing any of its settings: to look before touching. */
export const openToLook = (path: string): Database =>
  new Database(new DatabaseSync(path, { readOnly: true, timeout: BUSY_MS }));

/** What makes a commit durable, and what finds damage early. The cache is 16 MB. */
const SETTINGS = `PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;
  PRAGMA recursive_triggers = ON; PRAGMA cell_size_check = ON; PRAGMA cache_size = -16000`;

/** Opens (or makes) a database with a write-ahead log, full synchronisation and foreign keys. */
export function openDatabase(path: string): Database {
  const driver = new DatabaseSync(path, { timeout: BUSY_MS });
  try {
    driver.exec(SETTINGS);
  } catch (error) {
    driver.close();
    throw error;
  }
  return new Database(driver);
}

/** Result codes of the database (sqlite.org, rescode.html; from memory): the low byte is the kind, the rest the case. */
const FAILURES: ReadonlyMap<number, DatabaseFailure> = new Map([
  [3, 'read-only'], // SQLITE_PERM
  [5, 'locked'], // SQLITE_BUSY
  [6, 'locked'], // SQLITE_LOCKED
  [8, 'read-only'], // SQLITE_READONLY
  [10, 'failed'], // SQLITE_IOERR
  [11, 'damaged'], // SQLITE_CORRUPT
  [13, 'disk-full'], // SQLITE_FULL
  [14, 'failed'], // SQLITE_CANTOPEN
  [15, 'locked'], // SQLITE_PROTOCOL
  [26, 'damaged'], // SQLITE_NOTADB
]);

/** Which failure an exception from here means; undefined for a programmer's mistake. */
export function failureOf(error: unknown): DatabaseFailure | undefined {
  if (!(error instanceof Error && 'code' in error)) return undefined;
  // The driver reads no whole number beyond 2^53, and we write none.
  if (error instanceof RangeError && error.code === 'ERR_OUT_OF_RANGE') return 'damaged';
  if (error.code !== 'ERR_SQLITE_ERROR' || !('errcode' in error)) return undefined;
  return FAILURES.get(Number(error.errcode) & 0xff);
}
