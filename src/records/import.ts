// Imports: reads an export as a stream, checks each row and adds it once, one transaction per chunk of bytes; refused lines are named.
import { StringDecoder } from 'node:string_decoder';
import { setTimeout } from 'node:timers/promises';
import {
  entryRowOf,
  FORMAT,
  FORMAT_VERSION,
  isObject,
  type Loose,
  type ReadEntry,
  type ReadingRow,
  readingRowOf,
} from './codec/row.ts';
import type { Database } from './database.ts';
import type { Records } from './jobs.ts';
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
import { type Kept, kept, orElse } from './trouble.ts';

/** Far longer than any row this program writes. */
const LONGEST_LINE = 1024 * 1024;

export interface Line {
  readonly number: number;
  /** Null for a line longer than the cap, which is dropped. */
  readonly text: string | null;
}

/** Splits chunks at line feeds (a carriage return before one is dropped); yields the lines of each chunk together. */
export async function* linesOf(
  chunks: AsyncIterable<Uint8Array>,
  longest: number = LONGEST_LINE,
): AsyncGenerator<readonly Line[]> {
  const decoder = new StringDecoder('utf8');
  let rest = '';
  let tooLong = false;
  let number = 0;
  const close = (text: string): Line => {
    const whole = tooLong || text.length > longest ? null : text.replace(/\r$/, '');
    tooLong = false;
    number += 1;
    return { number, text: whole };
  };
  for await (const chunk of chunks) {
    const parts = (rest + decoder.write(Buffer.from(chunk.buffer, chunk.byteOffset, chunk.byteLength))).split(
      '\n',
    );
    rest = parts.pop() ?? '';
    const lines = parts.map(close);
    if (rest.length > longest) {
      tooLong = true;
      rest = '';
    }
    yield lines;
  }
  rest += decoder.end();
  if (rest !== '' || tooLong) yield [close(rest)];
}

/** The result of an import, before anything was read. */
const nothingRead = () => ({
  lines: 0,
  /** Added, and already here with the same contents. */
  entries: { added: 0, known: 0 },
  readings: { added: 0, known: 0 },
  jobsTouched: 0,
  /** Jobs whose first entry hasn't been imported yet: kept, and listed once it is. */
  jobsWithoutBeginning: 0,
  refused: 0,
  /** The first refused rows, in the order of the file. */
  firstRefused: [] as { readonly line: number; readonly reason: string }[],
  /** Why the rest of the file wasn't read; null when it was. */
  stopped: null as string | null,
});

export type ImportReport = Readonly<ReturnType<typeof nothingRead>>;

function objectIn(text: string): Loose | undefined {
  const plain: unknown = orElse(undefined, () => JSON.parse(text));
  return isObject(plain) && !Array.isArray(plain) ? plain : undefined;
}

/** Why a file with this header can't be read; undefined when it can. */
function headerRefusal(plain: Loose | undefined): string | undefined {
  if (plain?.row !== 'header') return "it doesn't start with the header row of a jobs export";
  if (plain.format !== FORMAT) return "it isn't a jobs export";
  return plain.v === FORMAT_VERSION
    ? undefined
    : `its rows have version ${JSON.stringify(plain.v)?.slice(0, 20)}, and this lidwright reads version ${FORMAT_VERSION}; update lidwright`;
}

/** The entry that readings are being added to: in an export they follow it. */
interface Current {
  readonly id: string;
  readonly seq: number;
  readonly readings: number;
}

const MOST_SHOWN = 50;
const otherwise = (what: string): string =>
  `${what} already exists with different contents; kept the existing one`;

/** One file on its way into the log: each row is checked, and added once. `read` runs inside the caller's transaction. */
class Import {
  readonly report = nothingRead();
  readonly #database: Database;
  readonly #touched = new Set<number>();
  #begun = false;
  /** Jobs that changed since the last transaction; with all their entries where none was here before. */
  readonly #changed = new Map<number, Placed[] | null>();
  #current: Current | undefined;
  #waiting: { readonly row: ReadingRow; readonly line: number }[] = [];

  constructor(database: Database) {
    this.#database = database;
  }

  /** Reads lines up to a header that stops it, and remakes the summary of each job that changed. */
  read(lines: readonly Line[]): void {
    for (const { number, text } of lines) {
      if (this.report.stopped !== null) break;
      this.report.lines = number;
      const reason = text?.trim() === '' ? undefined : this.#line(text);
      if (reason !== undefined) this.#refuse(number, reason);
    }
    this.#flush();
    for (const [job, placed] of this.#changed) {
      this.#touched.add(job);
      if (placed) summariseNew(this.#database, job, placed);
      else summarise(this.#database, job);
    }
    this.#changed.clear();
    this.report.jobsTouched = this.#touched.size;
  }

  #refuse(line: number, reason: string): void {
    const { firstRefused } = this.report;
    this.report.refused += 1;
    if (firstRefused.length < MOST_SHOWN) firstRefused.push({ line, reason });
  }

  /** Takes the row of one line, or says why it is refused. */
  #line(text: string | null): string | undefined {
    const plain = text === null ? undefined : objectIn(text);
    if (!this.#begun || plain?.row === 'header') {
      this.#begun = true;
      const refusal = headerRefusal(plain);
      this.report.stopped = refusal ?? null;
      return refusal;
    }
    if (!plain) return text === null ? 'the line is too long to be a row' : "it isn't a JSON object";
    if (plain.row === 'reading') {
      const row = readingRowOf(plain);
      return row.ok ? this.#reading(row.value) : row.reason;
    }
    if (plain.row !== 'entry') return 'unknown kind of row; a newer lidwright may know it';
    const read = entryRowOf(plain);
    return read.ok ? this.#entry(read.value) : read.reason;
  }

  #entry(read: ReadEntry): string | undefined {
    this.#flush();
    const { row } = read;
    const added = this.#add(read);
    const here = added === undefined ? entryById(this.#database, row.id) : undefined;
    if (here && !sameEntry(here.row, row)) return otherwise(`entry ${row.id}`);
    this.report.entries[here ? 'known' : 'added'] += 1;
    const seq = added ?? here?.seq;
    this.#current = seq === undefined ? undefined : { id: row.id, seq, readings: row.readings };
    return undefined;
  }

  /** Adds an entry to its job, which is made if it's new; undefined when the entry is already here. */
  #add({ row, fact }: ReadEntry): number | undefined {
    const known = numberOfJob(this.#database, row.job);
    if (known === undefined && entryById(this.#database, row.id)) return undefined;
    const job = known ?? addJob(this.#database, row.job);
    const seq = addEntry(this.#database, row, job, false);
    if (seq === undefined) return undefined;
    if (!this.#changed.has(job)) this.#changed.set(job, known === undefined ? [] : null);
    const { id, at, n } = row;
    if (fact) this.#changed.get(job)?.push({ n, entry: { id, job: row.job, at, fact, readings: [] } });
    return seq;
  }

  #reading(row: ReadingRow): string | undefined {
    if (this.#current?.id !== row.entry) {
      this.#flush();
      const found = entryById(this.#database, row.entry);
      this.#current = found && { id: row.entry, seq: found.seq, readings: found.row.readings };
    }
    if (!this.#current) return `its entry ${row.entry} is neither here nor earlier in the file`;
    if (row.n >= this.#current.readings) return `its entry has only ${this.#current.readings} readings`;
    this.#waiting.push({ row, line: this.report.lines });
    if (this.#waiting.length === TOGETHER) this.#flush();
    return undefined;
  }

  /** Writes the waiting readings, all of the current entry, and refuses those whose places hold something else. */
  #flush(): void {
    const waiting = this.#waiting;
    const seq = this.#current?.seq;
    if (seq === undefined || waiting.length === 0) return;
    this.#waiting = [];
    const added = addReadings(
      this.#database,
      waiting.map(({ row }) => row),
      seq,
    );
    const { readings } = this.report;
    readings.added += added;
    readings.known += waiting.length - added;
    if (added === waiting.length) return;
    for (const { row, line } of waiting) {
      const here = readingAt(this.#database, seq, row.entry, row.n);
      if (here && sameReading(here, row)) continue;
      readings.known -= 1;
      this.#refuse(line, otherwise(`reading ${row.n} of entry ${row.entry}`));
    }
  }
}

/**
 * Settings for many rows at once: a larger cache, and fewer checkpoints, which alone wait for the disk. A power cut may take the last
 * transactions, never part of one; importing the file again brings them back.
 */
const MANY_ROWS = 'PRAGMA cache_size = -65536; PRAGMA wal_autocheckpoint = 8000; PRAGMA synchronous = NORMAL';
/**
 * Back to one entry at a time. The checkpoint waits for the disk, so that what is reported as imported is there, unless another
 * program is reading an older state at that moment: then the next entry does it.
 */
const USUAL =
  'PRAGMA synchronous = FULL; PRAGMA wal_checkpoint; PRAGMA cache_size = -16000; PRAGMA wal_autocheckpoint = 1000';

/** A pause between transactions, so that a bench can save its entries meanwhile. */
const PAUSE_MS = 5;

const WITHOUT_BEGINNING = 'SELECT count(*) AS jobs FROM job WHERE number NOT IN (SELECT job FROM summary)';

/**
 * Reads an export into these records. What was added before it stops stays, and importing the same file again adds only what
 * was missing.
 * @param onLines called after each transaction with the number of lines read
 */
export async function importJobs(
  records: Records,
  chunks: AsyncIterable<Uint8Array>,
  onLines: (lines: number) => void = () => undefined,
): Promise<Kept<ImportReport>> {
  const begun = records.use((database) => {
    database.script(MANY_ROWS);
    return new Import(database);
  });
  if (!begun.ok) return begun;
  const file = begun.value;
  const { report } = file;
  let done: Kept<unknown> = begun;
  for await (const lines of linesOf(chunks)) {
    done = records.use((database) => database.change(() => file.read(lines)));
    if (!done.ok || report.stopped !== null) break;
    onLines(report.lines);
    await setTimeout(PAUSE_MS);
  }
  const missing = records.use((database) => {
    database.script(USUAL);
    return Number(database.get(WITHOUT_BEGINNING)?.jobs);
  });
  if (!done.ok) return done;
  return missing.ok ? kept({ ...report, jobsWithoutBeginning: missing.value }) : missing;
}
