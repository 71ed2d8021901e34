// The last resort: a job whose entries could not be saved, written as an export to any folder that still takes a file.
import { closeSync, fsyncSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { Entry } from '../core/bench/entry.ts';
import { lineOf, plainOfEntry, plainOfReading, rowsOf } from './codec/row.ts';
import { HEADER } from './export.ts';

/** A whole log as export rows, so that an import adds what is missing and nothing twice. */
export function rescueText(log: readonly Entry[]): string {
  const rows = log.flatMap((entry, at) => {
    const made = rowsOf(entry, at + 1);
    if (!made.ok) return [];
    return [plainOfEntry(made.value.entry), ...made.value.readings.map(plainOfReading)].map(lineOf);
  });
  return `${[HEADER, ...rows].join('\n')}\n`;
}

/** Writes it to the first of these folders that takes it, never over a file; null when none does. */
export function rescue(log: readonly Entry[], folders: readonly string[], stamp: number): string | null {
  for (const folder of folders) {
    const path = join(folder, `lidwright-rescued-${stamp}.ndjson`);
    try {
      const file = openSync(path, 'wx', 0o600);
      writeSync(file, rescueText(log));
      fsyncSync(file);
      closeSync(file);
      return path;
    } catch {}
  }
  return null;
}
