// The one file that knows the database driver: a small interface over it, with the settings that make a commit durable.
import Driver from 'better-sqlite3';

export type Cell = string | number | null;
export type Row = Readonly<Record<string, unknown>>;

/** What failed, in our words; anything else is a programmers' mistake and stays thrown. */
export type DatabaseFailure = 'busy' | 'full' | 'read-only' | 'damaged' | 'io';

export interface Database {
  /** Runs one statement and says how many rows it changed, and the last row's number. */
  run(sql: string, ...cells: readonly Cell[]): { readonly changes: number; readonly last: number };
  get(sql: string, ...cells: readonly Cell[]): Row | undefined;
  all(sql: string, ...cells: readonly Cell[]): readonly Row[];
  /** Rows one by one; nothing else may run on this database until it ends. */
  each(sql: string, ...cells: readonly Cell[]): IterableIterator<Row>;
  /** Several statements without parameters. */
  script(sql: string): void;
  /** All of it or nothing, durable when it returns. Takes the write lock at once. */
  change<T>(work: () => T): T;
  /** A view that does not change while it is read. */
  view<T>(work: () => T): T;
  close(): void;
}

/** How long a statement waits for another program before it is refused. */
export const BUSY_MS = 2000;

class Sqlite implements Database {
  readonly #driver: Driver.Database;
  readonly #statements = new Map<string, Driver.Statement<unknown[], Row>>();

  constructor(driver: Driver.Database) {
    this.#driver = driver;
  }

  #statement(sql: string): Driver.Statement<unknown[], Row> {
    const known = this.#statements.get(sql);
    if (known) return known;
    const made = this.#driver.prepare<unknown[], Row>(sql);
    this.#statements.set(sql, made);
    return made;
  }

  run(sql: string, ...cells: readonly Cell[]) {
    const { changes, lastInsertRowid } = this.#statement(sql).run(cells);
    return { changes, last: Number(lastInsertRowid) };
  }

  get(sql: string, ...cells: readonly Cell[]): Row | undefined {
    return this.#statement(sql).get(cells);
  }

  all(sql: string, ...cells: readonly Cell[]): readonly Row[] {
    return this.#statement(sql).all(cells);
  }

  each(sql: string, ...cells: readonly Cell[]): IterableIterator<Row> {
    return this.#driver.prepare<unknown[], Row>(sql).iterate(...cells);
  }

  script(sql: string): void {
    this.#driver.exec(sql);
  }

  change<T>(work: () => T): T {
    return this.#within('BEGIN IMMEDIATE', work);
  }

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
      if (this.#driver.inTransaction) this.#statement('ROLLBACK').run();
      throw error;
    }
  }

  close(): void {
    this.#driver.close();
  }
}

/** Opens a database without changing any of its settings: to look before touching. */
export const openToLook = (path: string): Database =>
  new Sqlite(new Driver(path, { readonly: true, fileMustExist: true, timeout: BUSY_MS }));

/** Opens (or makes) a database with a write-ahead log, full synchronisation and foreign keys. */
export function openDatabase(path: string): Database {
  const driver = new Driver(path, { timeout: BUSY_MS });
  try {
    driver.pragma('journal_mode = WAL');
    driver.pragma('synchronous = FULL');
    driver.pragma('foreign_keys = ON');
    driver.pragma('recursive_triggers = ON');
    driver.pragma('cell_size_check = ON');
  } catch (error) {
    driver.close();
    throw error;
  }
  return new Sqlite(driver);
}

/** Which failure an exception from here means, or undefined for a programmers' mistake. */
export function failureOf(error: unknown): DatabaseFailure | undefined {
  if (!(error instanceof Driver.SqliteError)) return undefined;
  const code = error.code;
  if (code.startsWith('SQLITE_BUSY') || code.startsWith('SQLITE_LOCKED') || code === 'SQLITE_PROTOCOL')
    return 'busy';
  if (code === 'SQLITE_FULL') return 'full';
  if (code.startsWith('SQLITE_READONLY') || code === 'SQLITE_PERM') return 'read-only';
  if (code.startsWith('SQLITE_CORRUPT') || code === 'SQLITE_NOTADB') return 'damaged';
  if (code.startsWith('SQLITE_IOERR') || code.startsWith('SQLITE_CANTOPEN')) return 'io';
  return undefined;
}
