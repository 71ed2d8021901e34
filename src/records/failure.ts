// What an exception at the database or at its files means, in the words of trouble.ts.
import { accessSync, constants, existsSync, statfsSync } from 'node:fs';
import { dirname } from 'node:path';
import { failureOf } from './database.ts';
import { holderOf } from './holder.ts';
import { DamageFound } from './log.ts';
import { type RecordsTrouble, TroubleThrown } from './trouble.ts';

/** Below this many free bytes, an unexplained write error is taken for a full disk. */
const LITTLE = 256 * 1024;

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

function writable(path: string): boolean {
  try {
    accessSync(dirname(path), constants.W_OK);
    if (existsSync(path)) accessSync(path, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

function diskIsFull(path: string): boolean {
  try {
    const { bavail, bsize } = statfsSync(dirname(path));
    return bavail * bsize < LITTLE;
  } catch {
    return false;
  }
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : '';

/** What an exception met at the database means, or undefined for a programmers' mistake. Damage comes without being set aside. */
export function troubleOf(error: unknown, path: string): RecordsTrouble | undefined {
  if (error instanceof TroubleThrown) return error.trouble;
  const detail = messageOf(error);
  if (error instanceof DamageFound) return { kind: 'damaged', path, detail, setAside: null, salvage: null };
  const failure = failureOf(error) ?? fileFailure(codeOf(error));
  switch (failure) {
    case undefined:
      return undefined;
    case 'busy':
      return { kind: 'locked', path, holder: holderOf([path, `${path}-shm`, `${path}-wal`]) };
    case 'full':
      return { kind: 'disk-full', path };
    case 'read-only':
      return { kind: 'read-only', path };
    case 'damaged':
      return { kind: 'damaged', path, detail, setAside: null, salvage: null };
    case 'io':
      if (diskIsFull(path)) return { kind: 'disk-full', path };
      return writable(path) ? { kind: 'failed', path, detail } : { kind: 'read-only', path };
    default:
      return failure satisfies never;
  }
}

function fileFailure(code: string): 'full' | 'read-only' | 'io' | undefined {
  if (code === 'ENOSPC' || code === 'EDQUOT') return 'full';
  if (code === 'EACCES' || code === 'EPERM' || code === 'EROFS') return 'read-only';
  return /^E[A-Z0-9]+$/.test(code) ? 'io' : undefined;
}
