// Imports: reads an export as a stream, one transaction per chunk of bytes, and reports refused lines by number.
import { StringDecoder } from 'node:string_decoder';
import { setTimeout } from 'node:timers/promises';
import { FORMAT, FORMAT_VERSION, type Loose } from './codec/row.ts';
import type { Records } from './jobs.ts';
import { Merge, type Merged, type Refused } from './merge.ts';
import { type Kept, kept } from './trouble.ts';

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

/** The result of an import. */
export interface ImportReport {
  readonly lines: number;
  readonly entries: Merged;
  readonly readings: Merged;
  readonly jobsTouched: number;
  /** Jobs whose first entry hasn't been imported yet: kept, and listed once it is. */
  readonly jobsWithoutBeginning: number;
  readonly refused: number;
  /** The first refused rows, in the order of the file. */
  readonly firstRefused: readonly Refused[];
  /** Why the rest of the file wasn't read; null when it was. */
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

/** Why a file with this header can't be read; undefined when it can. */
function headerRefusal(plain: Loose | undefined): string | undefined {
  if (plain?.row !== 'header') return "it doesn't start with the header row of a jobs export";
  if (plain.format !== FORMAT) return "it isn't a jobs export";
  return plain.v === FORMAT_VERSION
    ? undefined
    : `its rows have version ${JSON.stringify(plain.v)?.slice(0, 20)}, and this lidwright reads version ${FORMAT_VERSION}; update lidwright`;
}

/** Reads line after line; headers decide whether it goes on. */
class Reader {
  lines = 0;
  stopped: string | null = null;
  #begun = false;

  /** Reads the lines of one chunk, inside a transaction. */
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
    else merge.refuse(number, text === null ? 'the line is too long to be a row' : "it isn't a JSON object");
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

/** One transaction per chunk; returns the jobs that changed. */
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
