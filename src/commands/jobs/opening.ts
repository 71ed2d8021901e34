// Opens the records for one command, says what was in the way, and finds the one job that was meant.
import { shortId } from '../../core/bench/entry.ts';
import { forScreen } from '../../core/safe-text.ts';
import { homeOf } from '../../records/home.ts';
import { openRecords, type Records } from '../../records/jobs.ts';
import type { JobSummary } from '../../records/list.ts';
import { type Kept, type RecordsTrouble, troubleText } from '../../records/trouble.ts';
import type { ExitCode, Output } from '../command.ts';

/** Messages name files and give reasons: longer than a line of the wire, and still bounded. */
const LONGEST_MESSAGE = 2000;

export const safeMessage = (text: string): string => forScreen(text, LONGEST_MESSAGE);

/** Says what went wrong with the records; device or file trouble. */
export function tell(trouble: RecordsTrouble, output: Output): ExitCode {
  output.message(`jobs: ${safeMessage(troubleText(trouble))}`);
  return 3;
}

/** Opens the records, does the work, and closes them whatever came of it. */
export async function withRecords(
  output: Output,
  work: (records: Records) => ExitCode | Promise<ExitCode>,
): Promise<ExitCode> {
  const opened = openRecords(homeOf(process.env));
  if (!opened.ok) return tell(opened.trouble, output);
  const records = opened.value;
  for (const notice of records.notices) output.message(`jobs: ${safeMessage(troubleText(notice))}`);
  try {
    return await work(records);
  } finally {
    records.close();
  }
}

/** Goes on with what was kept, or says why there is nothing. */
export const orTell = <T>(
  result: Kept<T>,
  output: Output,
  then: (value: T) => ExitCode | Promise<ExitCode>,
): ExitCode | Promise<ExitCode> => (result.ok ? then(result.value) : tell(result.trouble, output));

const named = ({ number, id, name }: JobSummary): string =>
  `  ${number}  ${shortId(id)}  ${forScreen(name, 60)}`;

/** The job that the words mean: a number of the list, the beginning of an id, or part of a name. */
export function withJob(
  records: Records,
  words: unknown,
  output: Output,
  work: (job: JobSummary) => ExitCode | Promise<ExitCode>,
): ExitCode | Promise<ExitCode> {
  const wanted = typeof words === 'string' ? words : '';
  return orTell(records.find(wanted), output, (found) => {
    const [only, ...others] = found;
    if (only && others.length === 0) return work(only);
    if (!only)
      output.message(
        `jobs: no job is meant by "${forScreen(wanted)}". \`lidwright jobs --all\` lists them; nothing was changed.`,
      );
    else {
      output.message(
        `jobs: "${forScreen(wanted)}" may mean any of these; nothing was changed. Give a number or an id:`,
      );
      for (const job of found) output.message(named(job));
    }
    return 1;
  });
}
