// A new folder for a test or a measurement, gone when the test ends, or else its file, or else the process.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { whenTestEnds } from './ending.ts';

const made = new Set<string>();
process.once('exit', () => made.forEach(remove));

function remove(folder: string): void {
  rmSync(folder, { recursive: true, force: true });
  made.delete(folder);
}

export function freshFolder(under = tmpdir()): string {
  const folder = mkdtempSync(join(under, 'lidwright-'));
  made.add(folder);
  whenTestEnds(() => remove(folder)); // the test runner ends its workers without their exit handlers
  return folder;
}

/** Some work in a new folder, which is gone right after it: for work that is done thousands of times. */
export async function inFreshFolder<T>(work: (folder: string) => T | Promise<T>): Promise<T> {
  const folder = freshFolder();
  try {
    return await work(folder);
  } finally {
    remove(folder);
  }
}
