// The cautions, each where it matters: one line at a stage, all of them in the help.
import { CAUTIONS } from '../core/bench/cautions.ts';
import type { Stage } from '../core/bench/entry.ts';

/** The one line that stands at a stage; none where neither hands nor eyes are at risk. */
export const cautionAt: { readonly [stage in Stage]: string | null } = {
  zero: CAUTIONS.stopped,
  hollow: CAUTIONS.stopped,
  'bore thread': CAUTIONS.cutter,
  'bore size': CAUTIONS.stopped,
  spigot: CAUTIONS.stopped,
  'spigot thread': CAUTIONS.cutter,
  trial: CAUTIONS.byHand,
  record: null,
};

/** What the help of a stage repeats, so that nobody has to know which line belongs where. */
export const cautionsFor = (stage: Stage | null): readonly string[] => {
  const here = stage === null ? null : cautionAt[stage];
  const threads = stage?.endsWith('thread') ? [CAUTIONS.glue, CAUTIONS.speed] : [];
  return [...(here ? [here] : [CAUTIONS.stopped]), ...threads, CAUTIONS.manuals];
};
