// Writes a sheet to a file: replaces an earlier sheet, and never another file.
import { closeSync, existsSync, openSync, readSync, realpathSync, statSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { plainName } from '../../core/safe-text.ts';
import { writePrivately } from '../../records/home.ts';
import { MARK } from '../../sheet/svg.ts';

export type Delivered =
  | { readonly ok: true; readonly replaced: boolean }
  /** What is in the way, and what to do. */
  | { readonly ok: false; readonly why: string };

/** A file name for a job's sheet: its number, the plain letters and digits of its name, and the day. */
export const sheetFileName = (number: number, name: string, day: string): string =>
  `${[`job-${number}`, plainName(name), day].filter((part) => part !== '').join('-')}.html`;

/** The mark is near the beginning of a page and of a drawing. */
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
  if (!existsSync(folder)) return 'no such folder. Make it first, or choose another --file';
  if (!existsSync(path)) return undefined;
  const isSheet = statSync(path).isFile() && beginningOf(path).includes(MARK);
  return isSheet
    ? undefined
    : "already exists and isn't a job sheet, so it was left unchanged. Choose another --file, or move it away";
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
    return { ok: false, why: `can't be written (${reason}). Choose another --file` };
  }
}
