// Imports: streams an export in, a transaction per chunk of bytes, and says what came of it line by line.
import { StringDecoder } from 'node:string_decoder';
import { setTimeout } from 'node:timers/promises';
import { FORMAT, FORMAT_VERSION, type Loose } from './codec/row.ts';
import type { Records } from './jobs.ts';
import { Merge, type Merged, type Refused } from './merge.ts';
import { type Kept, kept } from './trouble.ts';

/** No row that this program writes comes near it. */
export const LONGEST_LINE = 1024 * 1024;

export interface Line {
  readonly number: number;
  /** Null for a line that was longer than the cap, of which nothing is kept. */
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

/** What came of an import. */
export interface ImportReport {
  readonly lines: number;
  readonly entries: Merged;
  readonly readings: Merged;
  readonly jobsTouched: number;
  /** Jobs with entries here whose beginning is in no file imported so far: kept, and listed once it comes. */
  readonly jobsWithoutBeginning: number;
  readonly refused: number;
  /** The first refused rows, in the order of the file. */
  readonly firstRefused: readonly Refused[];
  /** Why the rest of the file was not read at all; null when it was. */
  readonly stopped: string | null;
}

const isLoose = (plain: unknown): plain is Loose =>
  typeof plain === 'object' && plain !== null && !Array.isArray(plain);

function objectIn(text: string): Loose | undefined {
  try {
    const plain: unknown = JSON.parse(text);
    return isLoose(plain) ? plain : undefined;
  } catch {
    return undefined;
  }
}

/** Why a header is not one that can be read on from, or undefined when it is. */
function headerRefusal(plain: Loose | undefined): string | undefined {
  if (plain?.row !== 'header') return 'it does not begin with the header row of an export of jobs';
  if (plain.format !== FORMAT) return 'it is no export of jobs';
  return plain.v === FORMAT_VERSION
    ? undefined
    : `its rows are of version ${JSON.stringify(plain.v)?.slice(0, 20)}, and this lidwright reads version ${FORMAT_VERSION}; update lidwright`;
}

/** Reads line after line; what it has met of headers decides whether it goes on. */
class Reader {
  lines = 0;
  stopped: string | null = null;
  #begun = false;

  /** Takes the lines of one chunk, within a transaction. */
  read(lines: readonly Line[], merge: Merge): void {
    for (const { number, text } of lines) {
      if (this.stopped !== null) return;
      this.lines = number;
      if (text?.trim() !== '') this.#line(number, text, merge);
    }
  }

  #line(number: number, text: string | null, merge: Merge): void {
    const plain = text === null ? undefined : objectIn(text);
    if (!this.#begun || plain?.row === 'header') {
      this.stopped = headerRefusal(plain) ?? null;
      this.#begun = this.stopped === null;
      if (this.stopped !== null) merge.refuse(number, this.stopped);
    } else if (plain) merge.take(number, plain);
    else merge.refuse(number, text === null ? 'the line is too long for any row' : 'it is no JSON object');
  }
}

/**
 * Settings for many rows at once: a larger cache, the log brought into the database less often, and the disk waited for only
 * then. A power cut may take the last transactions, never a part of one; importing the file again brings them.
 */
const MANY_ROWS = 'PRAGMA cache_size = -65536; PRAGMA wal_autocheckpoint = 8000; PRAGMA synchronous = NORMAL';
/**
 * Back to one entry at a time. The checkpoint waits for the disk, so that what is reported as imported is there; only a program
 * that reads an older state just then can put that off until the next entry or checkpoint.
 */
const USUAL =
  'PRAGMA synchronous = FULL; PRAGMA wal_checkpoint; PRAGMA cache_size = -16000; PRAGMA wal_autocheckpoint = 1000';

/** Left between two transactions, so that a bench beside it gets its entries in. */
const PAUSE_MS = 5;

const WITHOUT_BEGINNING = 'SELECT count(*) AS jobs FROM job WHERE number NOT IN (SELECT job FROM summary)';

/**
 * Reads an export into these records. What was taken before it is cut short stays, and importing the same file again adds
 * only what was missing.
 * @param onLines told after each transaction how many lines have been read
 */
export async function importJobs(
  records: Records,
  chunks: AsyncIterable<Uint8Array>,
  onLines: (lines: number) => void = () => undefined,
): Promise<Kept<ImportReport>> {
  const begun = records.use((database) => {
    database.script(MANY_ROWS);
    return new Merge(database);
  });
  if (!begun.ok) return begun;
  const merge = begun.value;
  const reader = new Reader();
  const taken = await takeChunks(records, chunks, reader, merge, onLines);
  const missing = records.use((database) => {
    database.script(USUAL);
    return Number(database.get(WITHOUT_BEGINNING)?.jobs);
  });
  if (!taken.ok) return taken;
  if (!missing.ok) return missing;
  const { entries, readings, refused, firstRefused } = merge;
  const jobs = { jobsTouched: taken.value.size, jobsWithoutBeginning: missing.value };
  const { lines, stopped } = reader;
  return kept({ lines, entries, readings, ...jobs, refused, firstRefused, stopped });
}

/** A transaction for each chunk; answers with the jobs that changed. */
async function takeChunks(
  records: Records,
  chunks: AsyncIterable<Uint8Array>,
  reader: Reader,
  merge: Merge,
  onLines: (lines: number) => void,
): Promise<Kept<ReadonlySet<number>>> {
  const touched = new Set<number>();
  for await (const lines of linesOf(chunks)) {
    const taken = records.use((database) =>
      database.change(() => {
        reader.read(lines, merge);
        return merge.settle();
      }),
    );
    if (!taken.ok) return taken;
    for (const job of taken.value) touched.add(job);
    if (reader.stopped !== null) break;
    onLines(reader.lines);
    await setTimeout(PAUSE_MS);
  }
  return kept(touched);
}
