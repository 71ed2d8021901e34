// `lidwright jobs`: the list, newest first, with filters.
import { notAccepted } from '../../core/quantity.ts';
import { countOf, type Quantity } from '../../kit/quantities.ts';
import { COUNTED_AT_MOST, type JobFilter, type JobList } from '../../records/list.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { orReport, withRecords } from '../open-records.ts';
import { OptionReader } from '../options.ts';
import { answer, endWith, wrongUse } from '../output.ts';
import { jobLine, jobObject } from './words.ts';

const SHOWN = 20;
const limitCount = countOf('count', 1, 1_000_000);

/** A day by this computer's calendar, as the time at which it begins. */
const day: Quantity<number> = {
  placeholder: 'date',
  parse: (text) => {
    const value = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T00:00:00`).getTime() : Number.NaN;
    return Number.isNaN(value) ? notAccepted(text, 'a day such as 2026-03-01') : { ok: true, value };
  },
};

function filterOf({ options: typed }: Typed, options: OptionReader): JobFilter {
  if (typed.open && typed.closed) options.addError('Give --open or --closed, not both.');
  const [since, limit = SHOWN] = [options.one('since', day), options.one('limit', limitCount)];
  return {
    ...(typed.open && { state: 'open' }),
    ...(typed.closed && { state: 'closed' }),
    ...(typed.removed && { removed: true }),
    ...(typeof typed.name === 'string' && { name: typed.name }),
    ...(typeof typed.wood === 'string' && { wood: typed.wood }),
    ...(since !== undefined && { since }),
    ...(!typed.all && { limit }),
  };
}

function show({ jobs, total }: JobList, typed: Typed, output: Output): ExitCode {
  const isLeast = total === COUNTED_AT_MOST;
  const [now, columns] = [Date.now(), output.terminal ? output.columns : undefined];
  answer(
    typed,
    output,
    { kind: 'jobs', v: 1, total, totalIsLeast: isLeast, jobs: jobs.map(jobObject) },
    jobs.map((job) => jobLine(job, now, columns)),
  );
  if (typed.options.json === true || (jobs.length === total && total > 0)) return 0;
  const note =
    total === 0
      ? 'No jobs here. Run `lidwright` to start one, or `lidwright demo` to try it without a board.'
      : `${jobs.length} of ${total}${isLeast ? ' or more' : ''} listed. --all lists them all.`;
  return endWith(output, 0, note);
}

export async function runList(typed: Typed, output: Output): Promise<ExitCode> {
  const options = new OptionReader(typed);
  const filter = filterOf(typed, options);
  if (options.errors.length > 0) return wrongUse('jobs', options.errors, output);
  return withRecords(output, 'jobs', (records) =>
    orReport(records.list(filter), output, (list) => show(list, typed, output)),
  );
}
