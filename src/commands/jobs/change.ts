// Renaming, undoing, removing, restoring and duplicating: each is an entry added, and nothing is ever taken away.
import type { Fact } from '../../core/bench/entry.ts';
import { jobOf, lastUndoable } from '../../core/bench/job.ts';
import { forScreen } from '../../core/safe-text.ts';
import { lineOf } from '../../records/codec/row.ts';
import { newId, type Records } from '../../records/jobs.ts';
import type { JobSummary } from '../../records/list.ts';
import { jobStoreIn } from '../bench/edges.ts';
import type { ExitCode, Output, Typed } from '../command.ts';
import { factWords } from './fact-words.ts';
import { orTell, withJob, withRecords } from './opening.ts';
import { jobObject } from './words.ts';

const LONGEST_NAME = 200;

/** Adds a fact to a job and says so: in a sentence, or as the job that it made. */
function add(records: Records, job: string, fact: Fact, said: string, typed: Typed, output: Output) {
  const entry = { id: newId(), job, at: Date.now(), fact, readings: [] };
  return orTell(records.append(entry), output, () =>
    orTell(records.find(job), output, ([now]) => {
      if (typed.options.json)
        output.data(lineOf({ kind: 'job-changed', v: 1, entry: entry.id, job: now ? jobObject(now) : null }));
      else output.data(said);
      return 0;
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
    withRecords(output, (records) =>
      withJob(records, typed.args[0], output, (job) => change(records, job, typed, output)),
    );

const called = (job: JobSummary): string => `job ${job.number}, ${forScreen(job.name, 60)}`;

const rename: Change = (records, job, typed, output) => {
  const name = String(typed.args[1] ?? '').trim();
  if (name === '' || name.length > LONGEST_NAME) {
    output.message(`jobs: a name has 1 to ${LONGEST_NAME} characters; ${called(job)} keeps its name.`);
    return 2;
  }
  return add(
    records,
    job.id,
    { kind: 'job-renamed', name },
    `Renamed ${called(job)}: now ${forScreen(name, 60)}.`,
    typed,
    output,
  );
};

const undo: Change = (records, job, typed, output) =>
  orTell(records.entriesOf(job.id), output, (log) => {
    const last = lastUndoable(log);
    if (!last) {
      output.message(`jobs: nothing in ${called(job)} can be undone; nothing was changed.`);
      return 1;
    }
    const said = `Undone in ${called(job)}: ${factWords(last.fact, job.unit)}. It stays in the log; undo again goes one further back.`;
    return add(records, job.id, { kind: 'undone', entry: last.id }, said, typed, output);
  });

const remove: Change = (records, job, typed, output) => {
  if (job.removed) {
    output.message(`jobs: ${called(job)} is removed already; nothing was changed.`);
    return 1;
  }
  const said = `Removed ${called(job)}. Its entries stay; \`lidwright jobs restore ${job.number}\` brings it back.`;
  return add(records, job.id, { kind: 'job-removed' }, said, typed, output);
};

const restore: Change = (records, job, typed, output) => {
  if (!job.removed) {
    output.message(`jobs: ${called(job)} is not removed; nothing was changed.`);
    return 1;
  }
  return add(records, job.id, { kind: 'job-restored' }, `Restored ${called(job)}.`, typed, output);
};

/** A new job with the same setup and nothing cut, and with what trials on that setup teach by now. */
const duplicate: Change = (records, job, typed, output) =>
  orTell(records.outlineOf(job.id), output, (log) => {
    const from = jobOf(log);
    if (!from) {
      output.message(`jobs: the beginning of ${called(job)} is not here, so there is nothing to go by.`);
      return 1;
    }
    const { learned: _, ...setup } = from.setup;
    const asked = String(typed.args[1] ?? '').trim();
    const name = asked === '' ? `${from.name} (again)` : asked;
    if (name.length > LONGEST_NAME) {
      output.message(`jobs: a name has 1 to ${LONGEST_NAME} characters; nothing was begun.`);
      return 2;
    }
    const learned = jobStoreIn(records).lessons(setup);
    const planned = { ...setup, name, ...(learned && { learned }) };
    const said = `Begun from ${called(job)}: ${forScreen(name, 60)}, with nothing cut yet. \`lidwright\` opens it.`;
    return add(records, newId(), { kind: 'job-begun', setup: planned }, said, typed, output);
  });

export const runRename = changing(rename);
export const runUndo = changing(undo);
export const runRemove = changing(remove);
export const runRestore = changing(restore);
export const runDuplicate = changing(duplicate);
