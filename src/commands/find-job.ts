// The one job that somebody names: by its number in the list, the beginning of its id, or part of its name.
import { shortId } from '../core/bench/entry.ts';
import { forScreen } from '../core/safe-text.ts';
import type { Records } from '../records/jobs.ts';
import type { JobSummary } from '../records/list.ts';
import { troubleText } from '../records/trouble.ts';
import type { ExitCode, Output } from './command.ts';
import { safeMessage } from './open-records.ts';
import { endWith } from './output.ts';

export type JobFound =
  | { readonly ok: true; readonly job: JobSummary }
  /** What to say, and the exit code to end with. */
  | { readonly ok: false; readonly code: ExitCode; readonly lines: readonly string[] };

/** Goes on with the job that these words name; without one it says why, and what that leaves undone. */
export function withJob(
  records: Records,
  words: string | undefined,
  output: Output,
  then: (job: JobSummary) => ExitCode | Promise<ExitCode>,
  ...undone: readonly string[]
): ExitCode | Promise<ExitCode> {
  const found = findJob(records, words);
  return found.ok ? then(found.job) : endWith(output, found.code, ...found.lines, ...undone);
}

const notFound = (...lines: readonly string[]): JobFound => ({ ok: false, code: 1, lines });

const choice = ({ number, id, name }: JobSummary): string =>
  `  ${number}  ${shortId(id)}  ${forScreen(name, 60)}`;

/** The job that these words name; without words the job changed last. */
export function findJob(records: Records, words: string | undefined): JobFound {
  const found = words === undefined ? records.list({ limit: 1 }) : records.find(words);
  if (!found.ok) return { ok: false, code: 3, lines: [safeMessage(troubleText(found.trouble))] };
  const jobs = 'jobs' in found.value ? found.value.jobs : found.value;
  const [only, ...others] = jobs;
  if (only && others.length === 0) return { ok: true, job: only };
  if (words === undefined) return notFound('No jobs yet. Run `lidwright` to start one.');
  const wanted = forScreen(words);
  return only
    ? notFound(`"${wanted}" matches several jobs. Enter a number or an id:`, ...jobs.map(choice))
    : notFound(`No job matches "${wanted}". \`lidwright jobs --all\` lists them.`);
}
