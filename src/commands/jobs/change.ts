// Rename, undo, remove, restore and duplicate: each adds an entry, and none takes one away.
import type { Fact } from '../../core/bench/entry.ts';
import { jobOf, lastUndoable } from '../../core/bench/job.ts';
import { forScreen } from '../../core/safe-text.ts';
import { newId, type Records } from '../../records/jobs.ts';
import type { JobSummary } from '../../records/list.ts';
import { jobStoreIn } from '../bench/job-store.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { withJob } from '../find-job.ts';
import { orReport, withRecords } from '../open-records.ts';
import { answer, endWith } from '../output.ts';
import { factWords, jobObject } from './words.ts';

const LONGEST_NAME = 200;

/** Adds a fact to a job and says so: in a sentence, or as the job it made. */
function add(records: Records, job: string, fact: Fact, said: string, typed: Typed, output: Output) {
  const entry = { id: newId(), job, at: Date.now(), fact, readings: [] };
  return orReport(records.append(entry), output, () =>
    orReport(records.find(job), output, ([now]) => {
      const changed = { kind: 'job-changed', v: 1, entry: entry.id, job: now ? jobObject(now) : null };
      return answer(typed, output, changed, [said]);
    }),
  );
}

type Change = (
  records: Records,
  job: JobSummary,
  typed: Typed,
  output: Output,
) => ExitCode | Promise<ExitCode>;

const changing =
  (change: Change) =>
  (typed: Typed, output: Output): Promise<ExitCode> =>
    withRecords(output, 'jobs', (records) =>
      withJob(
        records,
        String(typed.args[0] ?? ''),
        output,
        (job) => change(records, job, typed, output),
        'Nothing was changed.',
      ),
    );

const called = (job: JobSummary): string => `job ${job.number}, ${forScreen(job.name, 60)}`;

const unchanged = (output: Output, why: string): ExitCode =>
  endWith(output, 1, `jobs: ${why}. Nothing was changed.`);

const wrongName = (output: Output, instead: string): ExitCode =>
  endWith(output, 2, `jobs: enter a name of 1 to ${LONGEST_NAME} characters. ${instead}`);

export const runRename = changing((records, job, typed, output) => {
  const name = String(typed.args[1] ?? '').trim();
  if (name === '' || name.length > LONGEST_NAME) return wrongName(output, `${called(job)} keeps its name.`);
  const said = `Renamed ${called(job)}: now ${forScreen(name, 60)}.`;
  return add(records, job.id, { kind: 'job-renamed', name }, said, typed, output);
});

export const runUndo = changing((records, job, typed, output) =>
  orReport(records.entriesOf(job.id), output, (log) => {
    const last = lastUndoable(log);
    if (!last) return unchanged(output, `there's nothing to undo in ${called(job)}`);
    const said = `Undone in ${called(job)}: ${factWords(last.fact, job.unit)}. It stays in the log. Undo again to go one step further back.`;
    return add(records, job.id, { kind: 'undone', entry: last.id }, said, typed, output);
  }),
);

export const runRemove = changing((records, job, typed, output) => {
  if (job.removed) return unchanged(output, `${called(job)} is already removed`);
  const said = `Removed ${called(job)}. Its entries stay, and \`lidwright jobs restore ${job.number}\` brings it back.`;
  return add(records, job.id, { kind: 'job-removed' }, said, typed, output);
});

export const runRestore = changing((records, job, typed, output) =>
  job.removed
    ? add(records, job.id, { kind: 'job-restored' }, `Restored ${called(job)}.`, typed, output)
    : unchanged(output, `${called(job)} isn't removed`),
);

/** A new job with the same setup, nothing cut, and what trials on that setup have taught so far. */
export const runDuplicate = changing((records, job, typed, output) =>
  orReport(records.outlineOf(job.id), output, (log) => {
    const from = jobOf(log);
    if (!from)
      return unchanged(
        output,
        `the start of ${called(job)} isn't in this database, so its setup can't be copied`,
      );
    const { learned: _, ...setup } = from.setup;
    const name = String(typed.args[1] ?? '').trim() || `${from.name} (again)`;
    if (name.length > LONGEST_NAME) return wrongName(output, 'No job was started.');
    const learned = jobStoreIn(records).lessons(setup);
    const planned = { ...setup, name, ...(learned && { learned }) };
    const said = `Started ${forScreen(name, 60)} with the setup of ${called(job)}. Run \`lidwright\` to open it.`;
    return add(records, newId(), { kind: 'job-begun', setup: planned }, said, typed, output);
  }),
);
