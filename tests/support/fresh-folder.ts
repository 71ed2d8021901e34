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
