// The last resort: a job whose entries could not be saved, written as an export to any folder that still takes a file.
import { join } from 'node:path';
import type { Entry } from '../core/bench/entry.ts';
import { lineOf, plainRowsOf } from './codec/row.ts';
import { HEADER } from './export.ts';
import { writeNewFile } from './home.ts';

/** Where the entries of a job stand in the database, by id; those that are not there come after them. */
export type Places = ReadonlyMap<string, number>;

/** A whole log as export rows, nothing left out, so that an import adds what is missing and nothing twice. */
export function rescueText(log: readonly Entry[], places: Places): string {
  let last = Math.max(0, ...places.values());
  const rows = log.flatMap((entry) => {
    const n = places.get(entry.id) ?? last + 1;
    last = Math.max(last, n);
    return plainRowsOf(entry, n).map(lineOf);
  });
  return `${[HEADER, ...rows].join('\n')}\n`;
}

/** Writes a text whole to the first of these folders that takes it, never over a file; null when none does, and then nothing is left. */
export function rescue(text: string, folders: readonly string[], stamp: number): string | null {
  for (const folder of folders) {
    const path = join(folder, `lidwright-rescued-${stamp}.ndjson`);
    try {
      writeNewFile(path, text);
      return path;
    } catch {}
  }
  return null;
}
