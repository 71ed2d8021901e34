// Every stage by its name, and the order in which a job goes through them.
import { STAGES, type Stage } from '../entry.ts';
import type { Setup } from '../setup.ts';
import { bore } from './bore.ts';
import { hollow } from './hollow.ts';
import { record } from './record.ts';
import type { StageRules } from './rules.ts';
import { spigot } from './spigot.ts';
import { threadStage } from './thread.ts';
import { trial } from './trial.ts';
import { zero } from './zero.ts';

export const RULES: { readonly [stage in Stage]: StageRules } = {
  zero,
  hollow,
  'bore thread': threadStage('female'),
  'bore size': bore,
  spigot,
  'spigot thread': threadStage('male'),
  trial,
  record,
};

/** A plain lid goes the same way without the thread stages. */
export const stagesOf = (setup: Setup): readonly Stage[] =>
  setup.fit === 'plain' ? STAGES.filter((stage) => !stage.endsWith('thread')) : STAGES;

/** The stage before or after; the same at either end. */
export function stageBeside(setup: Setup, stage: Stage, by: 1 | -1): Stage {
  const stages = stagesOf(setup);
  return stages[stages.indexOf(stage) + by] ?? stage;
}
