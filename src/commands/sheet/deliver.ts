// Where a sheet goes: to stdout, or to a file; an earlier sheet is replaced, anything else of that name is left as it is.
import { closeSync, existsSync, openSync, readSync, realpathSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { writePrivately } from '../../records/home.ts';
import { MARK } from '../../sheet/svg.ts';

export type Delivered =
  | { readonly ok: true; readonly replaced: boolean }
  /** What is in the way, and what to do. */
  | { readonly ok: false; readonly why: string };

/** The mark stands near the beginning of a page and of a drawing. */
const BEGINNING = 4096;

function beginningOf(path: string): string {
  const file = openSync(path, 'r');
  try {
    const bytes = Buffer.alloc(BEGINNING);
    return bytes.toString('utf8', 0, readSync(file, bytes, 0, BEGINNING, 0));
  } finally {
    closeSync(file);
  }
}

/** Why nothing may be written there; undefined where it may. */
function inTheWay(path: string): string | undefined {
  const folder = dirname(resolve(path));
  if (!existsSync(folder)) return 'there is no such folder; make it first, or give another --file';
  if (!existsSync(path)) return undefined;
  const isSheet = statSync(path).isFile() && beginningOf(path).includes(MARK);
  return isSheet
    ? undefined
    : 'that is there already and is no job sheet; it was left as it is. Give another --file, or move it away';
}

/** Writes the whole sheet or nothing; a power cut leaves the old one or the new one. */
export function deliverTo(path: string, markup: string): Delivered {
  try {
    const why = inTheWay(path);
    if (why !== undefined) return { ok: false, why };
    const replaced = existsSync(path);
    writePrivately(replaced ? realpathSync(path) : path, markup);
    return { ok: true, replaced };
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    return { ok: false, why: `it cannot be written (${reason}); give another --file` };
  }
}
