// Every stage by its name, and the order in which a job goes through them.
import { STAGES, type Stage } from '../entry.ts';
import type { Job } from '../job.ts';
import type { Setup } from '../setup.ts';
import { boreRules } from './bore.ts';
import { chasedRules } from './chased-thread.ts';
import { fedRules } from './fed-thread.ts';
import { hollowRules } from './hollow.ts';
import type { StageRules } from './rules.ts';
import { spigotRules } from './spigot.ts';
import { recordRules, trialRules } from './trial-and-record.ts';
import { zeroRules } from './zero.ts';

const RULES: { readonly [stage in Stage]: StageRules } = {
  zero: zeroRules,
  hollow: hollowRules,
  'bore thread': fedRules('female'),
  'bore size': boreRules,
  spigot: spigotRules,
  'spigot thread': fedRules('male'),
  trial: trialRules,
  record: recordRules,
};

const BY_HAND: { readonly [stage in Stage]?: StageRules } = {
  'bore thread': chasedRules('female'),
  'spigot thread': chasedRules('male'),
};

export const rulesOf = ({ stage, setup }: Job): StageRules =>
  (setup.byHand && BY_HAND[stage]) || RULES[stage];

/** A plain lid goes the same way without the thread stages. */
export const stagesOf = (setup: Setup): readonly Stage[] =>
  setup.fit === 'plain' ? STAGES.filter((stage) => !stage.endsWith('thread')) : STAGES;

/** The stage before or after; the same at either end. */
export function stageBeside(setup: Setup, stage: Stage, by: 1 | -1): Stage {
  const stages = stagesOf(setup);
  return stages[stages.indexOf(stage) + by] ?? stage;
}
