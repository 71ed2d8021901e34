// Merges rows from elsewhere into the log: each is checked, and added once.
import {
  type Checked,
  entryRowOf,
  type Loose,
  type ReadEntry,
  type ReadingRow,
  readingRowOf,
} from './codec/row.ts';
import type { Database } from './database.ts';
import { type Placed, summarise, summariseNew } from './list.ts';
import {
  addEntry,
  addJob,
  addReadings,
  entryById,
  numberOfJob,
  readingAt,
  sameEntry,
  sameReading,
  TOGETHER,
} from './log.ts';

export interface Refused {
  readonly line: number;
  readonly reason: string;
}

export interface Merged {
  readonly added: number;
  /** Already here, with the same contents. */
  readonly known: number;
}

/** The entry that readings are being added to: in an export they follow it. */
interface Current {
  readonly id: string;
  readonly seq: number;
  readonly readings: number;
}

interface Waiting {
  readonly row: ReadingRow;
  readonly line: number;
}

const MOST_SHOWN = 50;
const otherwise = (what: string): string =>
  `${what} already exists with different contents; kept the existing one`;

/** Merges one file; every method runs inside the caller's transaction. */
export class Merge {
  readonly #database: Database;
  readonly entries = { added: 0, known: 0 };
  readonly readings = { added: 0, known: 0 };
  readonly firstRefused: Refused[] = [];
  refused = 0;
  /** Jobs that changed since the last `settle`; with all their entries where none was here before. */
  #changed = new Map<number, Placed[] | null>();
  #current: Current | undefined;
  #waiting: Waiting[] = [];

  constructor(database: Database) {
    this.#database = database;
  }

  refuse(line: number, reason: string): void {
    this.refused += 1;
    if (this.firstRefused.length < MOST_SHOWN) this.firstRefused.push({ line, reason });
  }

  /** Takes the row of one line, or refuses the line. */
  take(line: number, plain: Loose): void {
    if (plain.row === 'entry') this.#checked(line, entryRowOf(plain), (row) => this.#entry(row));
    else if (plain.row === 'reading')
      this.#checked(line, readingRowOf(plain), (row) => this.#reading(row, line));
    else this.refuse(line, 'unknown kind of row; a newer lidwright may know it');
  }

  /** Writes what waits, remakes the summary of each job that changed, and returns those jobs. */
  settle(): readonly number[] {
    this.#flush();
    const changed = this.#changed;
    for (const [job, placed] of changed)
      if (placed) summariseNew(this.#database, job, placed);
      else summarise(this.#database, job);
    this.#changed = new Map();
    return [...changed.keys()];
  }

  #checked<T>(line: number, row: Checked<T>, take: (row: T) => string | undefined): void {
    const reason = row.ok ? take(row.value) : row.reason;
    if (reason !== undefined) this.refuse(line, reason);
  }

  #entry(read: ReadEntry): string | undefined {
    this.#flush();
    const { row } = read;
    const job = numberOfJob(this.#database, row.job);
    const seq = this.#add(read, job);
    const here = seq === undefined ? entryById(this.#database, row.id) : undefined;
    if (here && !sameEntry(here.row, row)) return otherwise(`entry ${row.id}`);
    if (here) this.entries.known += 1;
    const added = seq ?? here?.seq;
    this.#current = added === undefined ? undefined : { id: row.id, seq: added, readings: row.readings };
    return undefined;
  }

  /** Adds an entry to its job, which is made if it's new; undefined when the entry is already here. */
  #add({ row, fact }: ReadEntry, known: number | undefined): number | undefined {
    if (known === undefined && entryById(this.#database, row.id)) return undefined;
    const job = known ?? addJob(this.#database, row.job);
    const seq = addEntry(this.#database, row, job, false);
    if (seq === undefined) return undefined;
    this.entries.added += 1;
    if (known === undefined) this.#changed.set(job, []);
    else if (!this.#changed.has(job)) this.#changed.set(job, null);
    if (fact) {
      const { id, at, n } = row;
      this.#changed.get(job)?.push({ n, entry: { id, job: row.job, at, fact, readings: [] } });
    }
    return seq;
  }

  #reading(row: ReadingRow, line: number): string | undefined {
    if (this.#current?.id !== row.entry) {
      this.#flush();
      this.#current = currentOf(this.#database, row.entry);
    }
    if (!this.#current) return `its entry ${row.entry} is neither here nor earlier in the file`;
    if (row.n >= this.#current.readings) return `its entry has only ${this.#current.readings} readings`;
    this.#waiting.push({ row, line });
    if (this.#waiting.length === TOGETHER) this.#flush();
    return undefined;
  }

  /** Writes the waiting readings, all of the current entry, and compares those whose places were occupied. */
  #flush(): void {
    const waiting = this.#waiting;
    const seq = this.#current?.seq;
    if (seq === undefined || waiting.length === 0) return;
    this.#waiting = [];
    const rows = waiting.map(({ row }) => row);
    const added = addReadings(this.#database, rows, seq);
    const differing = added === rows.length ? 0 : this.#refuseDiffering(waiting, seq);
    this.readings.added += added;
    this.readings.known += rows.length - added - differing;
  }

  #refuseDiffering(waiting: readonly Waiting[], seq: number): number {
    const differing = waiting.filter(({ row }) => {
      const here = readingAt(this.#database, seq, row.entry, row.n);
      return !here || !sameReading(here, row);
    });
    for (const { row, line } of differing)
      this.refuse(line, otherwise(`reading ${row.n} of entry ${row.entry}`));
    return differing.length;
  }
}

function currentOf(database: Database, id: string): Current | undefined {
  const found = entryById(database, id);
  return found && { id, seq: found.seq, readings: found.row.readings };
}
