// The records of one bench: entries are saved so that they survive a power cut, and read back in order.
import { statSync } from 'node:fs';
import { v7 } from 'uuid';
import type { Entry } from '../core/bench/entry.ts';
import { type EntryRow, readFact, readingOf, rowsOf } from './codec/row.ts';
import type { Database } from './database.ts';
import type { Home } from './home.ts';
import {
  briefLog,
  type FoldedJob,
  findJobs,
  type JobFilter,
  type JobList,
  type JobSummary,
  latestOpen,
  listJobs,
  summarise,
  summariseAfter,
} from './list.ts';
import {
  addEntry,
  addJob,
  addReadings,
  entriesOfJob,
  entryById,
  lastPlace,
  numberOfJob,
  readingRowsOf,
} from './log.ts';
import { notOursAt, openHome, setAside } from './open.ts';
import { type Kept, kept, notKept, type RecordsTrouble, TroubleThrown, tried } from './trouble.ts';

/** An id for an entry or a job: in order of time (UUID version 7, RFC 9562), so that the newest are together in every index. */
export const newId = (): string => v7();

/** A row that is kept and exported but not used, and why. */
export interface LeftOut {
  readonly row: EntryRow;
  readonly why: 'newer' | { readonly unusable: string };
}

/** A job's log: the entries that are understood here, and the rows that are not. */
export interface JobLog {
  readonly entries: readonly Entry[];
  readonly leftOut: readonly LeftOut[];
  /** The place of the last row. */
  readonly last: number;
}

/** What came of saving. `others`: another program added to a job of these since it was last read or written here; read its log again. */
interface Appended {
  readonly others: boolean;
}

export class Records {
  readonly path: string;
  /** What went wrong on opening and was dealt with, such as a damaged database set aside. */
  readonly notices: readonly RecordsTrouble[];
  readonly #database: Database;
  readonly #inode: number;
  #standing: FoldedJob | null = null;
  /** The last place in each job's log that was read or written here. */
  readonly #seen = new Map<string, number>();
  #closed: RecordsTrouble | null = null;

  constructor(path: string, database: Database, notices: readonly RecordsTrouble[]) {
    this.path = path;
    this.notices = notices;
    this.#database = database;
    this.#inode = statSync(path).ino;
  }

  /** Saves one entry. When it returns ok the entry is on the disk and stays there through a power cut. */
  append(entry: Entry): Kept<Appended> {
    return this.appendAll([entry]);
  }

  /** Saves entries, all or none. An entry that is there already (by its id) is left as it is, so that trying again is safe. */
  appendAll(entries: readonly Entry[]): Kept<Appended> {
    return this.use((database) => {
      const jobs = [...new Set(entries.map(({ job }) => job))];
      const placesNow = (): readonly number[] => jobs.map((job) => ofJob(database, job, lastPlace) ?? 0);
      const done = database.change(() => {
        this.#refuseMoved();
        const trouble = notOursAt(this.path, database);
        if (trouble) throw new TroubleThrown(trouble);
        const before = placesNow();
        const standing = entries.reduce((each, entry) => appendTo(database, entry, each), this.#standing);
        return { before, standing, after: placesNow() };
      });
      this.#standing = done.standing;
      this.#refuseMoved();
      const others = jobs.some((job, at) => (done.before[at] ?? 0) > (this.#seen.get(job) ?? Infinity));
      for (const [at, job] of jobs.entries()) this.#seen.set(job, done.after[at] ?? 0);
      return { others };
    });
  }

  /** The entries of a job in the order of its log, with their readings; empty for a job that isn't here. */
  entriesOf(job: string): Kept<readonly Entry[]> {
    const log = this.logOf(job);
    return log.ok ? kept(log.value.entries) : log;
  }

  /** The same without feed counts and readings: quick, for reading many jobs. */
  outlineOf(job: string): Kept<readonly Entry[]> {
    return this.use((database) => ofJob(database, job, briefLog) ?? []);
  }

  /** The same, with the rows that are left out. */
  logOf(job: string): Kept<JobLog> {
    return this.use((database) => {
      const log = database.view(() => readLog(database, job));
      this.#seen.set(job, log.last);
      return log;
    });
  }

  /** The place of each entry in its job's log, by id. */
  placesOf(job: string): Kept<ReadonlyMap<string, number>> {
    return this.use((database) => {
      const rows = ofJob(database, job, entriesOfJob) ?? [];
      return new Map(rows.map(({ row }) => [row.id, row.n]));
    });
  }

  list(filter: JobFilter = {}): Kept<JobList> {
    return this.use((database) => listJobs(database, filter));
  }

  /** Jobs by number, the start of an id, or part of a name. */
  find(words: string): Kept<readonly JobSummary[]> {
    return this.use((database) => findJobs(database, words));
  }

  latestOpenJob(): Kept<JobSummary | undefined> {
    return this.use(latestOpen);
  }

  /** Runs one piece of work on the database. For the other files of this folder. */
  use<T>(work: (database: Database) => T): Kept<T> {
    if (this.#closed) return notKept(this.#closed);
    const done = tried(this.path, () => work(this.#database));
    return done.ok || done.trouble.kind !== 'damaged' ? done : notKept(this.#setAside(done.trouble.detail));
  }

  close(): void {
    if (this.#closed) return;
    this.#closed = { kind: 'closed' };
    this.#database.close();
  }

  #setAside(detail: string): RecordsTrouble {
    this.#database.abandon();
    this.#closed = setAside(this.path, detail);
    return this.#closed;
  }

  #refuseMoved(): void {
    if (statSync(this.path, { throwIfNoEntry: false })?.ino !== this.#inode)
      throw new TroubleThrown({ kind: 'moved', path: this.path });
  }
}

/** What some work finds of the job with this id; undefined when it isn't here. */
function ofJob<T>(
  database: Database,
  id: string,
  find: (database: Database, job: number) => T,
): T | undefined {
  const job = numberOfJob(database, id);
  return job === undefined ? undefined : find(database, job);
}

/** Adds one entry and updates its job's summary; returns the job as it is then. */
function appendTo(database: Database, entry: Entry, before: FoldedJob | null): FoldedJob | null {
  if (entryById(database, entry.id)) return before;
  const job = numberOfJob(database, entry.job) ?? addJob(database, entry.job);
  const rows = rowsOf(entry, lastPlace(database, job) + 1);
  if (!rows.ok) throw new TroubleThrown({ kind: 'bad-entry', reason: rows.reason });
  const seq = addEntry(database, rows.value.entry, job, true);
  if (seq === undefined) return before;
  addReadings(database, rows.value.readings, seq);
  return before?.number === job ? summariseAfter(database, before, entry, seq) : summarise(database, job);
}

function readLog(database: Database, id: string): JobLog {
  const rows = ofJob(database, id, entriesOfJob) ?? [];
  const entries: Entry[] = [];
  const leftOut: LeftOut[] = [];
  for (const numbered of rows) {
    const { row } = numbered;
    const read = readFact(row);
    if (!read.ok) leftOut.push({ row, why: { unusable: read.reason } });
    else if (!read.value) leftOut.push({ row, why: 'newer' });
    else {
      const readings = readingRowsOf(database, numbered).map(readingOf);
      entries.push({ id: row.id, job: row.job, at: row.at, fact: read.value, readings });
    }
  }
  return { entries, leftOut, last: rows.at(-1)?.row.n ?? 0 };
}

/** Opens the records of a home, and makes them if they don't exist. */
export function openRecords(home: Home): Kept<Records> {
  const opened = openHome(home);
  return opened.ok ? kept(new Records(home.database, opened.value.database, opened.value.notices)) : opened;
}
