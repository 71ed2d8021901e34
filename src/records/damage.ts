// A damaged database: moved aside under a dated name, never written to, and whatever can be read of it exported beside it.
import { existsSync, renameSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { salvage } from './salvage.ts';
import type { RecordsTrouble } from './trouble.ts';

const stamp = (now: Date): string => now.toISOString().slice(0, 19).replace('T', '-').replaceAll(':', '');

/** A free name beside the database: `jobs-damaged-2026-11-25-084439.db`, numbered when taken. */
function nameBeside(path: string, now: Date): string {
  const stem = join(dirname(path), `${basename(path, '.db')}-damaged-${stamp(now)}`);
  for (let number = 1; ; number += 1) {
    const name = number === 1 ? `${stem}.db` : `${stem}-${number}.db`;
    if (!existsSync(name)) return name;
  }
}

function move(path: string, aside: string): boolean {
  try {
    for (const ending of ['-wal', '-shm', '']) {
      if (existsSync(path + ending)) renameSync(path + ending, aside + ending);
    }
    return true;
  } catch {
    return false;
  }
}

/** Sets the database at `path` aside (it must be closed here) and exports what can be read of it. */
export function setAside(path: string, detail: string, now: Date = new Date()): RecordsTrouble {
  const aside = nameBeside(path, now);
  if (!move(path, aside)) return { kind: 'damaged', path, detail, setAside: null, salvage: null };
  return { kind: 'damaged', path, detail, setAside: aside, salvage: salvage(aside) };
}
