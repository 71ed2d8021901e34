// Hollow: what remains to the planned bore, and the taper from the mouth to the depth.

import { BORE_ENDS, boreAlong } from '../../core/bench/out-of-true.ts';
import { type HollowState, hollowState, nextHeight } from '../../core/bench/stages/hollow.ts';
import { correctReading } from '../../core/bench/stages/readings.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { taperFigure } from '../../core/figures.ts';
import { type Length, mm } from '../../core/units.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import { byKind } from '../words.ts';
import {
  bigLength,
  bigRead,
  factsFrom,
  HELD,
  isReceiving,
  keepTyped,
  knownLength,
  notRead,
  type StageScene,
  staleSaying,
  standingLine,
  taperWords,
} from './scene-parts.ts';

const PLACE = { mouth: 'at the mouth', depth: 'at depth' } as const;

export function hollowScene(bench: WithJob): StageScene {
  const last = bench.readings.at(-1);
  const now = last ? correctReading(bench.job, last.value, 'bore') : null;
  return {
    big: bigOf(bench, now),
    facts: factsOf(bench, now),
    ...(staleSaying(bench, last) ?? {
      standing: standingOf(hollowState(bench), bench),
      next: nextStep(bench, now),
    }),
  };
}

function nextStep(bench: WithJob, now: Length | null): string {
  const { job } = bench;
  const place = PLACE[nextHeight(job)];
  if (now === null && job.mouth && job.depth)
    return 'Press n to go on. Measure at the mouth again to replace both readings.';
  if (now === null && !isReceiving(bench))
    return `Measure the bore ${place}; type it and press Enter. Press n to go on.`;
  if (bench.readings.at(-1)?.raw === '') return keepTyped(place);
  return `Hold the jaws still in the bore ${place}, then press Enter. Press n to go on.`;
}

/** A reading, or the one that was kept. */
function bigOf(bench: WithJob, now: Length | null): Big {
  const { job } = bench;
  const { plannedBore, caliper } = job.setup;
  const value = now ?? job.mouth?.diameter;
  const last = bench.readings.at(-1);
  const shown =
    value === undefined ? undefined : { value, step: last?.step ?? caliper.step, raw: last?.raw ?? '' };
  if (plannedBore === undefined) return bigRead(bench, shown, shown ? 'bore now' : 'bore');
  if (value === undefined) return bigLength(plannedBore, bench.unit, 'planned bore', 'value');
  // What is wider than planned is said by a plus: it is over, and nothing is to come.
  const over = bigRead(bench, shown, 'over the planned bore, on the diameter', mm(value - plannedBore));
  return Number(over.text) > 0
    ? { ...over, text: `+${over.text}` }
    : bigRead(bench, shown, 'still to come out, on the diameter', mm(plannedBore - value));
}

const standingOf = byKind<HollowState, Standing, [bench: WithJob]>({
  ...HELD,
  unread: (_, { job }) => notRead(PLACE[nextHeight(job)]),
  wider: standingLine(MARKS.alert, 'WIDER', 'than planned; the spigot will match the bore', 'near'),
  parallel: standingLine(MARKS.full, 'PARALLEL', 'mouth and depth are the same', 'good'),
  tapered: ({ taper }, { unit }) =>
    standingLine(MARKS.alert, 'TAPERED', taperFigure(taper, BORE_ENDS, unit), 'near'),
});

const factsOf = ({ unit, job }: WithJob, now: Length | null): readonly Figure[] =>
  factsFrom({
    'bore now': knownLength(now, unit),
    planned: knownLength(job.setup.plannedBore, unit),
    mouth: knownLength(job.mouth?.diameter, unit),
    depth: knownLength(job.depth?.diameter, unit),
    fit: taperWords(boreAlong(job), null, unit),
  });
