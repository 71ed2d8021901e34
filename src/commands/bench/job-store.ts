// What the bench keeps and looks up: entries written, jobs listed and opened, lessons gathered from earlier jobs.
import type { Entry, Fact, KeptReading } from '../../core/bench/entry.ts';
import { type Job, type JobLine, jobOf } from '../../core/bench/job.ts';
import { learnedFrom } from '../../core/bench/lessons.ts';
import type { Lessons, Setup } from '../../core/bench/setup.ts';
import { newId, type Records } from '../../records/jobs.ts';
import type { JobSummary } from '../../records/list.ts';
import { type Kept, troubleText } from '../../records/trouble.ts';

/** Jobs looked through for lessons, and shown in the list: the newest. */
const RECENT = 200;

const orTrouble = <T>(result: Kept<T>): T | { readonly trouble: string } =>
  result.ok ? result.value : { trouble: troubleText(result.trouble) };

const lineOf = ({ id, name, touched, stage, status }: JobSummary): JobLine => ({
  id,
  name,
  touched,
  stage,
  closed: status !== 'open',
});

export function jobStoreIn(records: Records) {
  const summaries = (): readonly JobSummary[] => {
    const list = records.list({ limit: RECENT });
    return list.ok ? list.value.jobs : [];
  };
  const jobIn = (id: string): Job | undefined => {
    const log = records.entriesOf(id);
    return log.ok ? jobOf(log.value) : undefined;
  };
  return {
    keep(
      job: string | null,
      fact: Fact,
      readings: readonly KeptReading[],
    ): { entry: Entry; trouble: string | null; log?: readonly Entry[] } {
      const entry = { id: newId(), job: job ?? newId(), at: Date.now(), fact, readings };
      const saved = records.append(entry);
      if (!saved.ok) return { entry, trouble: troubleText(saved.trouble) };
      const log = saved.value.others ? records.entriesOf(entry.job) : null;
      return { entry, trouble: null, ...(log?.ok ? { log: log.value } : {}) };
    },
    /** Answers the ids that are saved now. */
    retry(entries: readonly Entry[]): readonly string[] {
      const saved = records.appendAll(entries);
      return saved.ok ? entries.map(({ id }) => id) : [];
    },
    jobs(): readonly JobLine[] | { readonly trouble: string } {
      const list = orTrouble(records.list({ limit: RECENT }));
      return 'trouble' in list ? list : list.jobs.map(lineOf);
    },
    entriesOf: (job: string) => orTrouble(records.entriesOf(job)),
    lessons(setup: Setup): Lessons | null {
      const tried = summaries().filter(({ trials }) => trials > 0);
      return learnedFrom(
        setup,
        tried.toReversed().flatMap(({ id }) => jobIn(id) ?? []),
      );
    },
    last(): Setup | null {
      const newest = summaries()[0];
      return newest ? (jobIn(newest.id)?.setup ?? null) : null;
    },
  };
}

export type JobStore = ReturnType<typeof jobStoreIn>;
