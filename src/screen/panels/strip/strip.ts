// The strip of stages: which are done, which one the job stands at.
import type { Stage } from '../../../core/bench/entry.ts';
import type { Job } from '../../../core/bench/job.ts';
import { stagesOf } from '../../../core/bench/stages/all.ts';

export interface StripStage {
  readonly name: string;
  readonly state: 'done' | 'here' | 'ahead';
}

const DONE: { readonly [stage in Stage]: (job: Job) => boolean } = {
  zero: (job) => job.zero !== null,
  hollow: (job) => job.mouth !== null,
  'bore thread': (job) => job.threads.female.cut !== null,
  'bore size': (job) => job.bore !== null,
  spigot: (job) => job.spigot !== null,
  'spigot thread': (job) => job.threads.male.cut !== null,
  trial: (job) => job.trials.length > 0,
  record: (job) => job.closed !== null,
};

export const stripOf = (job: Job): readonly StripStage[] =>
  stagesOf(job.setup).map((name) => ({
    name,
    state: name === job.stage ? 'here' : DONE[name](job) ? 'done' : 'ahead',
  }));
