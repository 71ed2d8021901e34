// Opens the records for one command, says what was in the way, and always closes them again.
import { type Job, jobOf } from '../core/bench/job.ts';
import { forScreen } from '../core/safe-text.ts';
import { homeOf } from '../records/home.ts';
import { openRecords, type Records } from '../records/jobs.ts';
import { type Kept, type RecordsTrouble, troubleText } from '../records/trouble.ts';
import type { ExitCode, Output } from './command.ts';
import { endWith } from './output.ts';

/** Messages name files and give reasons: longer than a line of the wire, and still bounded. */
const LONGEST_MESSAGE = 2000;

export const safeMessage = (text: string): string => forScreen(text, LONGEST_MESSAGE);

type Coming = ExitCode | Promise<ExitCode>;

/** Says what went wrong with the records; the exit code for a file that can't be used. */
export const reportTrouble = (trouble: RecordsTrouble, output: Output, command: string): ExitCode =>
  endWith(output, 3, `${command}: ${safeMessage(troubleText(trouble))}`);

export async function withRecords(
  output: Output,
  command: string,
  work: (records: Records) => Coming,
): Promise<ExitCode> {
  const opened = openRecords(homeOf(process.env));
  if (!opened.ok) return reportTrouble(opened.trouble, output, command);
  const records = opened.value;
  for (const notice of records.notices) reportTrouble(notice, output, command);
  try {
    return await work(records);
  } finally {
    records.close();
  }
}

/** Goes on with a value of the records, or says why there isn't one. */
export const orReport = <T>(
  result: Kept<T>,
  output: Output,
  then: (value: T) => Coming,
  command = 'jobs',
): Coming => (result.ok ? then(result.value) : reportTrouble(result.trouble, output, command));

/** The job as its whole log gives it, or why there isn't one. */
export function jobIn(records: Records, id: string): Job | { readonly trouble: string } {
  const log = records.entriesOf(id);
  if (!log.ok) return { trouble: troubleText(log.trouble) };
  const trouble = "the start of that job isn't in this database. Run `lidwright doctor` for details.";
  return jobOf(log.value) ?? { trouble };
}

const EVERY_MS = 1000;

/** Call it with a count as often as you like: it reports how far long work is, nothing in the first second, then a line a second. */
export function progressOf(
  output: Output,
  what: (count: number, perSecond: number) => string,
): (count: number) => void {
  const began = performance.now();
  let said = began;
  return (count) => {
    const at = performance.now();
    if (at - said < EVERY_MS) return;
    said = at;
    output.message(`jobs: ${what(count, Math.round(count / ((at - began) / 1000)))}`);
  };
}
