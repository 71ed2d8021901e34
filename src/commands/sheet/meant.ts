// The job that a sheet is asked of: by number, name or id, or the one touched last.

import { shortId } from '../../core/bench/entry.ts';
import { forScreen } from '../../core/safe-text.ts';
import type { Records } from '../../records/jobs.ts';
import type { JobSummary } from '../../records/list.ts';
import { troubleText } from '../../records/trouble.ts';
import type { ExitCode } from '../command.ts';

export type Meant =
  | { readonly ok: true; readonly job: JobSummary }
  | { readonly ok: false; readonly code: ExitCode; readonly lines: readonly string[] };

const line = ({ number, id, name }: JobSummary): string =>
  `  ${number}  ${shortId(id)}  ${forScreen(name, 60)}`;

const no = (...lines: readonly string[]): Meant => ({ ok: false, code: 1, lines });

/** One job, or what to say and the exit code to end with. */
export function jobMeant(records: Records, words: string | undefined): Meant {
  const found = words === undefined ? records.list({ limit: 1 }) : records.find(words);
  if (!found.ok) return { ok: false, code: 3, lines: [forScreen(troubleText(found.trouble), 2000)] };
  const jobs = 'jobs' in found.value ? found.value.jobs : found.value;
  const [only, ...others] = jobs;
  if (only && others.length === 0) return { ok: true, job: only };
  if (only)
    return no(
      `"${forScreen(words ?? '')}" may mean any of these; give a number or an id:`,
      ...jobs.map(line),
    );
  if (words === undefined) return no('there is no job yet; `lidwright` begins one.');
  return no(`no job is meant by "${forScreen(words)}"; \`lidwright jobs --all\` lists them.`);
}
