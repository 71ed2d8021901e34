// A new folder for a test or a measurement, gone when the test ends, or else the process.
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { onTestFinished } from 'vitest';

const made = new Set<string>();
process.once('exit', () => made.forEach(remove));

function remove(folder: string): void {
  rmSync(folder, { recursive: true, force: true });
  made.delete(folder);
}

export function freshFolder(under = tmpdir()): string {
  const folder = mkdtempSync(join(under, 'lidwright-'));
  made.add(folder);
  try {
    // The runner ends its workers without their exit handlers.
    onTestFinished(() => remove(folder));
  } catch {
    // Not within a test.
  }
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
