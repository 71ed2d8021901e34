// What scenes ask of a job again and again, worked out once for each job as it stands.
import { clearanceInDoubt } from '../../core/bench/doubt.ts';
import type { Job } from '../../core/bench/job.ts';
import { type Aim, aimOf, type NoAim } from '../../core/bench/target.ts';
import { coverageFactor } from '../../core/measure/student.ts';
import type { ClearanceDoubt } from '../../core/thread/chances.ts';
import { type Length, mm } from '../../core/units.ts';

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

let lastFactor: { readonly degrees: number; readonly factor: number } | undefined;

/** Half of the 95 % interval of a standard uncertainty. */
export function half95(standard: Length, degreesOfFreedom: number): Length {
  if (lastFactor?.degrees !== degreesOfFreedom)
    lastFactor = { degrees: degreesOfFreedom, factor: coverageFactor(0.95, degreesOfFreedom) };
  return mm(standard * lastFactor.factor);
}
