// A new folder for a test or a measurement, gone when the process ends.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const made: string[] = [];
process.once('exit', () => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

export function freshFolder(under = tmpdir()): string {
  const folder = mkdtempSync(join(under, 'lidwright-'));
  made.push(folder);
  return folder;
}

/** Some work in a new folder, which is gone right after it: for work that is done thousands of times. */
export async function inFreshFolder<T>(work: (folder: string) => T | Promise<T>): Promise<T> {
  const folder = freshFolder();
  try {
    return await work(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
    made.splice(made.indexOf(folder), 1);
  }
}
