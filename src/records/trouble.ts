// What can go wrong with the records, as values, and the sentence for each: what happened, what is safe, what to do.
import { accessSync, constants, existsSync, readFileSync, statfsSync, statSync } from 'node:fs';
import { dirname } from 'node:path';
import { type DatabaseFailure, failureOf } from './database.ts';
import { DamageFound } from './log.ts';

/** What could be read of a damaged database, and where it was put. */
export interface Salvage {
  readonly path: string;
  readonly jobs: number;
  readonly entries: number;
  readonly readings: number;
}

export interface Damaged {
  readonly kind: 'damaged';
  readonly path: string;
  readonly detail: string;
  /** Where the damaged file is now, unchanged; null when it couldn't be moved. */
  readonly setAside: string | null;
  readonly salvage: Salvage | null;
}

export type RecordsTrouble =
  | { readonly kind: 'read-only' | 'disk-full' | 'moved'; readonly path: string }
  | { readonly kind: 'locked'; readonly path: string; readonly holder: string | null }
  | Damaged
  | { readonly kind: 'newer'; readonly path: string; readonly found: number; readonly known: number }
  | { readonly kind: 'bad-entry'; readonly reason: string }
  | { readonly kind: 'closed' }
  | { readonly kind: 'failed'; readonly path: string; readonly detail: string };

/** A value, or the trouble that kept it away. */
export type Kept<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly trouble: RecordsTrouble };

export const kept = <T>(value: T): Kept<T> => ({ ok: true, value });
export const notKept = (trouble: RecordsTrouble): Kept<never> => ({ ok: false, trouble });

/** Carries trouble to the one catch in src/records; never leaves that folder. */
export class TroubleThrown extends Error {
  readonly trouble: RecordsTrouble;
  constructor(trouble: RecordsTrouble) {
    super(troubleText(trouble));
    this.trouble = trouble;
  }
}

const salvageText = (salvage: Salvage | null): string =>
  salvage === null
    ? 'Nothing could be read from it.'
    : `What could be read (${salvage.jobs} jobs, ${salvage.entries} entries, ${salvage.readings} readings) is in ${salvage.path}; ` +
      `"lidwright jobs import ${salvage.path}" brings it back.`;

function damagedText({ path, detail, setAside, salvage }: Damaged): string {
  const moved = setAside
    ? `It was set aside, unchanged, as ${setAside}. ${salvageText(salvage)}`
    : 'It was left in place, unchanged. Make its folder writable and start again.';
  return `The job database ${path} is damaged (${detail}). ${moved}`;
}

/** The sentences for a person. Paths come from the system: make them safe before a terminal shows them. */
export function troubleText(trouble: RecordsTrouble): string {
  switch (trouble.kind) {
    case 'read-only':
      return `Can't write to ${trouble.path}: the folder or file is read-only. Nothing was changed. Make it writable, or choose another folder with --home.`;
    case 'disk-full':
      return `The disk with ${trouble.path} is full. Everything reported as saved is still there; the last entry isn't. Free some space, then try again.`;
    case 'locked':
      return `The job database ${trouble.path} is in use by ${trouble.holder ?? 'another program'}. Nothing was changed. Close that program, or wait until it's done, then try again.`;
    case 'damaged':
      return damagedText(trouble);
    case 'newer':
      return `The job database ${trouble.path} was written by a newer lidwright (format ${trouble.found}; this one reads up to ${trouble.known}). It was left unchanged. Update lidwright, or choose another folder with --home.`;
    case 'moved':
      return `The job database ${trouble.path} was moved or removed while it was open. The last entry isn't saved. Put the file back, or start again to make a new one.`;
    case 'bad-entry':
      return `An entry was refused: ${trouble.reason}. It isn't saved; everything before it is.`;
    case 'closed':
      return 'The job database is closed. Start again.';
    case 'failed':
      return `Can't use the job database ${trouble.path}: ${trouble.detail}. Everything reported as saved is kept. Check the disk and the folder, then try again.`;
    default:
      return trouble satisfies never;
  }
}

const inodeOf = (path: string): number | undefined => orElse(undefined, () => statSync(path).ino);

/** Process ids in the text of /proc/locks that hold a lock on one of these inodes (proc(5): "... POSIX ADVISORY WRITE pid major:minor:inode ..."). */
function holdersIn(locks: string, inodes: ReadonlySet<number>): readonly number[] {
  const held = locks.split('\n').flatMap((line) => {
    const match = /(\d+) [0-9a-f]+:[0-9a-f]+:(\d+) /.exec(line);
    return match && inodes.has(Number(match[2])) ? [Number(match[1])] : [];
  });
  return [...new Set(held)];
}

/** What some work gives, or `otherwise` where the system refuses it. */
export function orElse<T>(otherwise: T, work: () => T): T {
  try {
    return work();
  } catch {
    return otherwise;
  }
}

const nameOf = (pid: number): string =>
  orElse('a program', () => readFileSync(`/proc/${pid}/comm`, 'utf8').trim());

/** Names and process ids of other programs that hold a lock on these files; null where the system doesn't tell. */
function holderOf(paths: readonly string[]): string | null {
  const inodes = new Set(paths.map(inodeOf).filter((inode) => inode !== undefined));
  const held = holdersIn(
    orElse('', () => readFileSync('/proc/locks', 'utf8')),
    inodes,
  );
  const pids = held.filter((pid) => pid !== process.pid && pid > 0);
  return pids.length === 0 ? null : pids.map((pid) => `${nameOf(pid)} (process ${pid})`).join(', ');
}

/** Below this many free bytes, an unexplained write error counts as a full disk. */
const LITTLE = 256 * 1024;

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const writable = (path: string): boolean =>
  orElse(false, () => {
    accessSync(dirname(path), constants.W_OK);
    if (existsSync(path)) accessSync(path, constants.W_OK);
    return true;
  });

const diskIsFull = (path: string): boolean =>
  orElse(false, () => {
    const { bavail, bsize } = statfsSync(dirname(path));
    return bavail * bsize < LITTLE;
  });

/** Which failure of a file an exception means. */
export function fileFailureOf(error: unknown): DatabaseFailure | undefined {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'ENOSPC' || code === 'EDQUOT') return 'disk-full';
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') return 'read-only';
  return /^E[A-Z0-9]+$/.test(code) ? 'failed' : undefined;
}

/** An unexplained failure is often a full disk, or a folder without write permission. */
function explained(path: string): DatabaseFailure {
  if (diskIsFull(path)) return 'disk-full';
  return writable(path) ? 'failed' : 'read-only';
}

/** A damaged database, not set aside yet. */
export const damagedAt = (path: string, detail: string): Damaged => ({
  kind: 'damaged',
  path,
  detail,
  setAside: null,
  salvage: null,
});

/** What an exception at the database means; undefined for a programmer's mistake. */
export function troubleOf(error: unknown, path: string): RecordsTrouble | undefined {
  if (error instanceof TroubleThrown) return error.trouble;
  const detail = messageOf(error);
  if (error instanceof DamageFound) return damagedAt(path, detail);
  const failure = failureOf(error) ?? fileFailureOf(error);
  const kind = failure === 'failed' ? explained(path) : failure;
  switch (kind) {
    case undefined:
      return undefined;
    case 'locked':
      return { kind, path, holder: holderOf([path, `${path}-shm`, `${path}-wal`]) };
    case 'damaged':
      return damagedAt(path, detail);
    case 'failed':
      return { kind, path, detail };
    default:
      return { kind, path };
  }
}

/** The value of some work on the database at `path`, or the trouble that an exception in it means. */
export function tried<T>(path: string, work: () => T): Kept<T> {
  try {
    return kept(work());
  } catch (error) {
    const trouble = troubleOf(error, path);
    if (!trouble) throw error;
    return notKept(trouble);
  }
}
