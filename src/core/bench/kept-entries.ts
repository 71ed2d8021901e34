// What comes back from the disk: entries kept, saved late or read with a job; what could not be written is tried again.
import type { Entry, Fact } from './entry.ts';
import type { EdgeEvent } from './event.ts';
import { jobOf, withEntry } from './job.ts';
import { becomes, type Outcome, unchanged } from './outcome.ts';
import { rulesOf } from './stages/all.ts';
import type { Bench } from './state.ts';

/** Entries not written yet still belong to their job, after the written ones. */
export function opened(bench: Bench, stored: readonly Entry[]): Outcome {
  const waiting = bench.unsaved.filter(({ job }) => job === stored[0]?.job);
  const log = [...stored, ...waiting];
  const job = jobOf(log);
  if (!job)
    return becomes(bench, {
      notice: { kind: 'not-saved', why: "the start of that job isn't in this database" },
    });
  return unchanged(
    stageReset({
      ...bench,
      log,
      job,
      mode: { kind: 'stage' },
      notice: null,
      feedSeen: false,
      unit: job.setup.unit,
    }),
  );
}

/** Clears the stage's live values for the job on the bench. */
export function stageReset(bench: Bench): Bench {
  const { job } = bench;
  return job ? rulesOf(job).entered({ ...bench, job }) : bench;
}

/** Both benches' entries are the job: bore, target and spigot are worked out from all of them. */
function withOthers(bench: Bench, log: readonly Entry[]): Outcome {
  const next: Bench = { ...bench, log, job: jobOf(log) ?? bench.job, notice: { kind: 'other-bench' } };
  return unchanged(next.job?.stage === bench.job?.stage ? next : stageReset(next));
}

export function entryKept(
  bench: Bench,
  { entry, trouble, log: elsewhere }: Extract<EdgeEvent, { kind: 'entry-kept' }>,
): Outcome {
  const begins = entry.fact.kind === 'job-begun';
  if (!begins && entry.job !== bench.job?.id) return unchanged(bench);
  if (elsewhere) return withOthers(bench, elsewhere);
  const log = begins ? [entry] : [...bench.log, entry];
  const job =
    (entry.fact.kind === 'undone'
      ? jobOf(log)
      : withEntry(begins ? undefined : (bench.job ?? undefined), entry)) ?? null;
  const unsaved = trouble === null ? bench.unsaved : [...bench.unsaved, entry];
  const mode = begins ? ({ kind: 'stage' } as const) : bench.mode;
  const zeroDoubted = bench.zeroDoubted && entry.fact.kind !== 'zero-taken' && !begins;
  const notice = noticeFor(bench, entry, trouble);
  const next: Bench = { ...bench, log, job, mode, unsaved, notice, zeroDoubted };
  const clears = begins || entry.fact.kind === 'stage-entered';
  return unchanged(clears ? stageReset(begins && job ? { ...next, unit: job.setup.unit } : next) : next);
}

/** Kept without a word: what the screen shows by itself. */
const QUIET: ReadonlySet<Fact['kind']> = new Set([
  'stage-entered',
  'feed-counted',
  'stroke',
  'target-set',
  'setup-changed',
]);

function noticeFor(bench: Bench, entry: Entry, trouble: string | null): Bench['notice'] {
  if (trouble !== null) return { kind: 'not-saved', why: trouble };
  const { fact } = entry;
  if (bench.notice?.kind === 'refused' || bench.notice?.kind === 'undone') return bench.notice;
  if (QUIET.has(fact.kind)) return bench.notice;
  return fact.kind === 'depth-voided'
    ? { kind: 'depth-voided', part: fact.part }
    : { kind: 'kept', what: fact.kind };
}

export function saved(bench: Bench, ids: readonly string[]): Outcome {
  const unsaved = bench.unsaved.filter((entry) => !ids.includes(entry.id));
  const notice = unsaved.length === 0 && bench.notice?.kind === 'not-saved' ? null : bench.notice;
  return becomes(bench, { unsaved, notice });
}

/** Every five seconds what could not be written is tried again. */
const RETRY_EVERY_MS = 5000;

export function ticked(bench: Bench, { now, wall }: Extract<EdgeEvent, { kind: 'ticked' }>): Outcome {
  const next = { ...bench, now, wall };
  const due = Math.floor(now / RETRY_EVERY_MS) !== Math.floor(bench.now / RETRY_EVERY_MS);
  return due && bench.unsaved.length > 0
    ? becomes(next, {}, { kind: 'retry', entries: bench.unsaved })
    : unchanged(next);
}
