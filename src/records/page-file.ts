// The pages of a database file and of its write-ahead log, read in order and by number, without the database's own code.
import { closeSync, existsSync, fstatSync, openSync, readSync } from 'node:fs';

const MAGIC = 'SQLite format 3\u0000';
/** What this program's databases have, for a file whose header no longer says. */
const USUAL_PAGE = 4096;
const WAL_HEADER = 32;
const FRAME_HEADER = 24;

export interface NumberedPage {
  readonly number: number;
  readonly page: Buffer;
}

function readAt(file: number, at: number, length: number): Buffer | undefined {
  const bytes = Buffer.alloc(length);
  return readSync(file, bytes, 0, length, at) === length ? bytes : undefined;
}

/** The page size that a header states (1 stands for 65536), or the usual one where it is none. */
function pageSizeIn(header: Buffer | undefined): number {
  if (header?.toString('latin1', 0, 16) !== MAGIC) return USUAL_PAGE;
  const stated = header.readUInt16BE(16) === 1 ? 65536 : header.readUInt16BE(16);
  const sound = stated >= 512 && (stated & (stated - 1)) === 0;
  return sound ? stated : USUAL_PAGE;
}

/** Places of the frames that were committed, with their page numbers: those up to the last commit under the log's own salt. */
function committedFrames(file: number, pageSize: number): readonly { at: number; number: number }[] {
  const salt = readAt(file, 16, 8);
  const frames: { at: number; number: number }[] = [];
  let committed = 0;
  for (let at = WAL_HEADER; salt; at += FRAME_HEADER + pageSize) {
    const header = readAt(file, at, FRAME_HEADER);
    if (!header?.subarray(8, 16).equals(salt)) break;
    if (at + FRAME_HEADER + pageSize > fstatSync(file).size) break;
    frames.push({ at: at + FRAME_HEADER, number: header.readUInt32BE(0) });
    if (header.readUInt32BE(4) !== 0) committed = frames.length;
  }
  return frames.slice(0, committed);
}

export class PageFile {
  readonly #main: number;
  readonly #wal: number | undefined;
  readonly #size: number;
  readonly #frames: ReadonlyMap<number, number>;

  constructor(path: string) {
    this.#main = openSync(path, 'r');
    this.#wal = existsSync(`${path}-wal`) ? openSync(`${path}-wal`, 'r') : undefined;
    this.#size = pageSizeIn(readAt(this.#main, 0, 100));
    const frames = this.#wal === undefined ? [] : committedFrames(this.#wal, this.#size);
    this.#frames = new Map(frames.map(({ at, number }) => [number, at]));
  }

  /** The newest copy of a page. */
  pageBy(number: number): Buffer | undefined {
    const at = this.#frames.get(number);
    if (at !== undefined && this.#wal !== undefined) return readAt(this.#wal, at, this.#size);
    return number > 0 ? readAt(this.#main, (number - 1) * this.#size, this.#size) : undefined;
  }

  /** The newest copy of every page there is, in order; those that only the log has come last. */
  *pages(): Generator<NumberedPage> {
    const count = Math.floor(fstatSync(this.#main).size / this.#size);
    const beyond = [...this.#frames.keys()].filter((number) => number > count).toSorted((a, b) => a - b);
    for (let number = 1; number <= count; number += 1) {
      const page = this.pageBy(number);
      if (page) yield { number, page };
    }
    for (const number of beyond) {
      const page = this.pageBy(number);
      if (page) yield { number, page };
    }
  }

  close(): void {
    closeSync(this.#main);
    if (this.#wal !== undefined) closeSync(this.#wal);
  }
}
