// An export of many made-up jobs, as bytes, a few megabytes at a time.
import { HEADER, lineOf, plainOfEntry, plainOfReading, rowsOf } from '../../../src/records/codec/row.ts';
import { sampleJob } from './sample.ts';

const CHUNK = 4 * 1024 * 1024;

function linesOfJob(seed: number, readings: number): readonly string[] {
  return sampleJob(seed, readings).flatMap((entry, place) => {
    const rows = rowsOf(entry, place + 1);
    if (!rows.ok) throw new Error(rows.reason);
    return [
      lineOf(plainOfEntry(rows.value.entry)),
      ...rows.value.readings.map((row) => lineOf(plainOfReading(row))),
    ];
  });
}

/** The text of an export of `jobs` jobs with `readings` readings each, in pieces of about 4 MB. */
export function* exportOf(jobs: number, readings: number): Generator<string> {
  let text = `${HEADER}\n`;
  for (let seed = 1; seed <= jobs; seed += 1) {
    text += `${linesOfJob(seed, readings).join('\n')}\n`;
    if (text.length < CHUNK) continue;
    yield text;
    text = '';
  }
  yield text;
}
