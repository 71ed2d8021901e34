// A new home for each test, gone afterwards; and records opened in it without a word about results.
import { join } from 'node:path';
import { exportJobs } from '../../src/records/export.ts';
import { type Home, homeOf } from '../../src/records/home.ts';
import { type ImportReport, importJobs } from '../../src/records/import.ts';
import { openRecords, type Records } from '../../src/records/jobs.ts';
import { type Kept, troubleText } from '../../src/records/trouble.ts';
import { whenTestEnds } from './ending.ts';
import { freshFolder } from './fresh-folder.ts';

/** An empty home that is removed when the test ends. */
export const freshHome = (): Home => homeOf({}, join(freshFolder(), 'home'));

/** The value, or a failed test that says what the trouble was. */
export function must<T>(result: Kept<T>): T {
  if (result.ok) return result.value;
  throw new Error(troubleText(result.trouble));
}

/** Records that are closed when the test ends. */
export function opened(home: Home): Records {
  const records = must(openRecords(home));
  whenTestEnds(() => records.close());
  return records;
}

/** The whole export as text. */
export function exportedText(records: Records): string {
  const lines: string[] = [];
  must(exportJobs(records, (line) => lines.push(line)));
  return `${lines.join('\n')}\n`;
}

/** Text in pieces of bytes. */
export async function* inPieces(text: string, size = 1 << 20): AsyncGenerator<Uint8Array> {
  const bytes = Buffer.from(text);
  for (let at = 0; at < bytes.length; at += size) yield bytes.subarray(at, at + size);
}

export const importText = async (records: Records, text: string): Promise<ImportReport> =>
  must(await importJobs(records, inPieces(text)));
