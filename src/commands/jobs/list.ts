// `lidwright jobs`: the list, newest first, with filters.
import { parseCount, refusal } from '../../core/quantity.ts';
import { lineOf } from '../../records/codec/row.ts';
import { COUNTED_AT_MOST, type JobFilter, type JobList } from '../../records/list.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { orReport, withRecords } from '../open-records.ts';
import { readOptions, wrongUse } from '../options.ts';
import { jobLine, jobObject } from './words.ts';

const SHOWN = 20;

const dayOf = (text: string): number | undefined => {
  const day = /^\d{4}-\d{2}-\d{2}$/.test(text) ? new Date(`${text}T00:00:00`).getTime() : Number.NaN;
  return Number.isNaN(day) ? undefined : day;
};

/** The filter that was typed, or what is wrong with it. */
function filterOf({ options }: Typed): JobFilter | readonly string[] {
  const complaints: string[] = [];
  if (options.open && options.closed) complaints.push('Give --open or --closed, not both.');
  const since = typeof options.since === 'string' ? dayOf(options.since) : undefined;
  if (options.since !== undefined && since === undefined)
    complaints.push(
      refusal('--since', {
        ok: false,
        kind: 'bad-quantity',
        found: String(options.since),
        accepted: 'a day such as 2026-03-01',
      }),
    );
  const limit = readOptions({ args: [], options }).optional('--limit', (text) =>
    parseCount(text, 1, 1_000_000),
  );
  if (options.limit !== undefined && limit === undefined)
    complaints.push('--limit: give a whole number from 1 to 1000000.');
  if (complaints.length > 0) return complaints;
  return {
    ...(options.open && { state: 'open' }),
    ...(options.closed && { state: 'closed' }),
    ...(options.removed && { removed: true }),
    ...(typeof options.name === 'string' && { name: options.name }),
    ...(typeof options.wood === 'string' && { wood: options.wood }),
    ...(since !== undefined && { since }),
    ...(!options.all && { limit: limit ?? SHOWN }),
  };
}

const isComplaints = (value: JobFilter | readonly string[]): value is readonly string[] =>
  Array.isArray(value);

const countOf = ({ total }: JobList): string =>
  total === COUNTED_AT_MOST ? `${total} or more` : String(total);

function show(list: JobList, typed: Typed, output: Output): ExitCode {
  if (typed.options.json) {
    output.data(
      lineOf({
        kind: 'jobs',
        v: 1,
        total: list.total,
        totalIsLeast: list.total === COUNTED_AT_MOST,
        jobs: list.jobs.map(jobObject),
      }),
    );
    return 0;
  }
  const now = Date.now();
  const columns = output.terminal ? output.columns : undefined;
  for (const job of list.jobs) output.data(jobLine(job, now, columns));
  if (list.total === 0)
    output.message(
      'No jobs here. Run `lidwright` to start one, or `lidwright demo` to try it without a board.',
    );
  else if (list.jobs.length < list.total)
    output.message(`${list.jobs.length} of ${countOf(list)} listed; --all lists them all.`);
  return 0;
}

export async function runList(typed: Typed, output: Output): Promise<ExitCode> {
  const filter = filterOf(typed);
  if (isComplaints(filter)) return wrongUse('jobs', filter, output);
  return withRecords(output, 'jobs', (records) =>
    orReport(records.list(filter), output, (list) => show(list, typed, output)),
  );
}
