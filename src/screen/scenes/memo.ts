// What scenes ask of a job again and again, worked out once for each version of the job.
import { clearanceInDoubt } from '../../core/bench/doubt.ts';
import type { Job } from '../../core/bench/job.ts';
import { type Aim, aimOf, type NoAim } from '../../core/bench/target.ts';
import type { ClearanceDoubt } from '../../core/thread/chances.ts';

function remembered<Answer>(ask: (job: Job) => Answer): (job: Job) => Answer {
  const answers = new WeakMap<Job, { readonly answer: Answer }>();
  return (job) => {
    const known = answers.get(job);
    if (known) return known.answer;
    const answer = ask(job);
    answers.set(job, { answer });
    return answer;
  };
}

export const aimFor: (job: Job) => Aim | NoAim = remembered(aimOf);
export const doubtFor: (job: Job) => ClearanceDoubt | null = remembered(clearanceInDoubt);
