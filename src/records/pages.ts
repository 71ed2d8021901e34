// Reads rows straight from the pages of a database file and its write-ahead log, even where the tree above them is broken.
// After "Database File Format" (sqlite.org, fileformat2: sections 1.6 B-tree pages, 2.1 record format, 4.1 WAL format; from memory).
import { closeSync, existsSync, fstatSync, openSync, readSync } from 'node:fs';
import type { Cell } from './database.ts';

/** A row in a page: its number where the table has one, and its cells. */
export interface RawRow {
  readonly number: number | null;
  readonly cells: readonly Cell[];
}

const TABLE_LEAF = 13;
const INDEX_LEAF = 10;
const INDEX_INTERIOR = 2;
/** Far longer than any row of ours; a longer payload is damage. */
const LONGEST_PAYLOAD = 4 * 1024 * 1024;

/** Another page of the same file by its number from 1, for rows that run over; undefined where it is missing. */
type PageBy = (number: number) => Buffer | undefined;

interface Varint {
  readonly value: number;
  readonly next: number;
}

/** A big-endian number of one to nine bytes, seven bits each; the ninth has eight. */
function varint(bytes: Buffer, at: number): Varint {
  let value = 0n;
  for (let place = 0; place < 9; place += 1) {
    const byte = bytes.readUInt8(at + place);
    if (place === 8) return { value: Number((value << 8n) | BigInt(byte)), next: at + 9 };
    value = (value << 7n) | BigInt(byte & 0x7f);
    if (byte < 0x80) return { value: Number(value), next: at + place + 1 };
  }
  throw new RangeError('a varint has nine bytes at most');
}

const INTEGER_BYTES = [0, 1, 2, 3, 4, 6, 8];

/** One cell of a record from its serial type. */
function cellAt(bytes: Buffer, at: number, type: number): { readonly cell: Cell; readonly next: number } {
  if (type === 0) return { cell: null, next: at };
  if (type === 8 || type === 9) return { cell: type - 8, next: at };
  if (type === 7) return { cell: bytes.readDoubleBE(at), next: at + 8 };
  const size = INTEGER_BYTES[type];
  if (size === 8) return { cell: Number(bytes.readBigInt64BE(at)), next: at + 8 };
  if (size !== undefined) return { cell: bytes.readIntBE(at, size), next: at + size };
  if (type < 13 || type % 2 === 0) throw new RangeError(`serial type ${type} isn't used in our columns`);
  const length = (type - 13) / 2;
  if (at + length > bytes.length) throw new RangeError('text runs past its record');
  return { cell: bytes.toString('utf8', at, at + length), next: at + length };
}

function recordIn(payload: Buffer): readonly Cell[] {
  const header = varint(payload, 0);
  const cells: Cell[] = [];
  let body = header.value;
  for (let at = header.next; at < header.value; ) {
    const type = varint(payload, at);
    const read = cellAt(payload, body, type.value);
    cells.push(read.cell);
    at = type.next;
    body = read.next;
  }
  return cells;
}

/** How much of a payload lies in its own page. */
function localSize(payload: number, usable: number, table: boolean): number {
  const most = table ? usable - 35 : Math.floor(((usable - 12) * 64) / 255) - 23;
  if (payload <= most) return payload;
  const least = Math.floor(((usable - 12) * 32) / 255) - 23;
  const wanted = least + ((payload - least) % (usable - 4));
  return wanted <= most ? wanted : least;
}

function payloadAt(page: Buffer, at: number, size: number, table: boolean, pageBy: PageBy): Buffer {
  if (size > LONGEST_PAYLOAD) throw new RangeError('the payload is too long');
  const local = localSize(size, page.length, table);
  const parts = [page.subarray(at, at + local)];
  let missing = size - local;
  let next = missing > 0 ? page.readUInt32BE(at + local) : 0;
  while (missing > 0) {
    const more = pageBy(next);
    if (!more) throw new RangeError('a page of the payload is missing');
    const part = more.subarray(4, 4 + Math.min(missing, page.length - 4));
    parts.push(part);
    missing -= part.length;
    next = more.readUInt32BE(0);
  }
  return Buffer.concat(parts);
}

function rowAt(page: Buffer, at: number, kind: number, pageBy: PageBy): RawRow {
  const size = varint(page, kind === INDEX_INTERIOR ? at + 4 : at);
  const table = kind === TABLE_LEAF;
  const number = table ? varint(page, size.next) : undefined;
  const payload = payloadAt(page, number?.next ?? size.next, size.value, table, pageBy);
  return { number: number?.value ?? null, cells: recordIn(payload) };
}

/** The result, or undefined where it ends in the error that damage brings. */
export function orNothing<T>(damage: new (message?: string) => Error, work: () => T): T | undefined {
  try {
    return work();
  } catch (error) {
    if (error instanceof damage) return undefined;
    throw error;
  }
}

/** Every row that can be read in a page; `first` for page 1, whose tree starts after the file's header. */
export function rowsIn(page: Buffer, first: boolean, pageBy: PageBy): readonly RawRow[] {
  const start = first ? 100 : 0;
  const kind = page.readUInt8(start);
  if (kind !== TABLE_LEAF && kind !== INDEX_LEAF && kind !== INDEX_INTERIOR) return [];
  const pointers = start + (kind === INDEX_INTERIOR ? 12 : 8);
  const count = Math.min(page.readUInt16BE(start + 3), (page.length - pointers) >> 1);
  const places = Array.from({ length: count }, (_, at) => page.readUInt16BE(pointers + 2 * at));
  return places.flatMap((at) => orNothing(RangeError, () => rowAt(page, at, kind, pageBy)) ?? []);
}

const MAGIC = 'SQLite format 3\u0000';
/** The page size of this program's databases, for a file with a broken header. */
const USUAL_PAGE = 4096;
const WAL_HEADER = 32;
const FRAME_HEADER = 24;

function readAt(file: number, at: number, length: number): Buffer | undefined {
  const bytes = Buffer.alloc(length);
  return readSync(file, bytes, 0, length, at) === length ? bytes : undefined;
}

/** The page size in a header (1 means 65536), or the usual size where the header is broken. */
function pageSizeIn(header: Buffer | undefined): number {
  if (header?.toString('latin1', 0, 16) !== MAGIC) return USUAL_PAGE;
  const stated = header.readUInt16BE(16) === 1 ? 65536 : header.readUInt16BE(16);
  const sound = stated >= 512 && (stated & (stated - 1)) === 0;
  return sound ? stated : USUAL_PAGE;
}

/** Places and page numbers of committed frames: those up to the last commit with the log's own salt. */
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

  /** The newest copy of every page, in order; pages that only the log has come last. */
  *pages(): Generator<{ readonly number: number; readonly page: Buffer }> {
    const count = Math.floor(fstatSync(this.#main).size / this.#size);
    const beyond = [...this.#frames.keys()].filter((number) => number > count).toSorted((a, b) => a - b);
    for (const number of [...Array.from({ length: count }, (_, at) => at + 1), ...beyond]) {
      const page = this.pageBy(number);
      if (page) yield { number, page };
    }
  }

  close(): void {
    closeSync(this.#main);
    if (this.#wal !== undefined) closeSync(this.#wal);
  }
}
