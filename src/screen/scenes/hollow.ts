// Hollow: what remains to the planned bore, and the taper from the mouth to the depth.
import { correctReading } from '../../core/bench/correct-reading.ts';
import type { Job } from '../../core/bench/job.ts';
import { BORE_ENDS, boreAlong } from '../../core/bench/out-of-true.ts';
import { hollowState, nextHeight } from '../../core/bench/stages/hollow.ts';
import type { Bench } from '../../core/bench/state.ts';
import { lengthFigure, taperFigure } from '../../core/figures.ts';
import { type Length, mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { stageKeys } from '../key-table.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import type { Style } from '../styled-text.ts';
import {
  bigLength,
  bigNothing,
  bigReading,
  HELD,
  isReceiving,
  keepTyped,
  liveStyle,
  staleness,
  standingLine,
  taperFact,
  wakeAdvice,
} from './scene-parts.ts';

const PLACE = { mouth: 'at the mouth', depth: 'at depth' } as const;

export function hollowScene(bench: Bench, job: Job): Scene {
  const last = bench.readings.at(-1);
  const now = last ? correctReading(job, last.value, 'bore') : null;
  return {
    title: 'hollow',
    big: bigOf(bench, job, now),
    standing: standingOf(bench, job, now),
    facts: factsOf(bench, job, now),
    panel: null,
    next: nextStep(bench, job, now),
    caution: cautionAt.hollow,
    keys: stageKeys('keep'),
    typing: null,
  };
}

function nextStep(bench: Bench, job: Job, now: Length | null): string {
  if (now !== null && staleness(bench, bench.readings.at(-1))) return wakeAdvice(bench);
  const place = PLACE[nextHeight(job)];
  if (now === null && job.mouth && job.depth)
    return 'Press n to go on. Measure at the mouth again to replace both readings.';
  if (now === null && !isReceiving(bench))
    return `Measure the bore ${place}; type it and press Enter. Press n to go on.`;
  if (bench.readings.at(-1)?.raw === '') return keepTyped(place);
  return `Hold the jaws still in the bore ${place}, then press Enter. Press n to go on.`;
}

function bigOf(bench: Bench, job: Job, now: Length | null): Big {
  const { plannedBore } = job.setup;
  const step = bench.readings.at(-1)?.step ?? mm(0.01);
  const value = now ?? job.mouth?.diameter ?? null;
  if (plannedBore !== undefined && value !== null) return remaining(bench, mm(plannedBore - value), step);
  if (plannedBore !== undefined) return bigLength(plannedBore, bench.unit, 'planned bore', 'value');
  return value === null
    ? bigNothing(bench.unit, 'bore')
    : bigReading(value, step, bench.unit, 'bore now', liveStyle(bench, bench.readings.at(-1)));
}

/** What is wider than planned is said by a plus: it is over, and nothing is to come. */
function remaining(bench: Bench, left: Length, step: Length): Big {
  const live = (style: Style): Style => liveStyle(bench, bench.readings.at(-1), style);
  const over = bigReading(
    mm(-left),
    step,
    bench.unit,
    'over the planned bore, on the diameter',
    live('value'),
  );
  return Number(over.text) > 0
    ? { ...over, text: `+${over.text}` }
    : bigReading(left, step, bench.unit, 'still to come out, on the diameter', live('value'));
}

function standingOf(bench: Bench, job: Job, now: Length | null): Standing {
  const stale = now === null ? null : staleness(bench, bench.readings.at(-1));
  if (stale) return stale;
  const state = hollowState({ ...bench, job });
  switch (state.kind) {
    case 'unread':
      return standingLine(MARKS.open, 'NO READING YET', PLACE[nextHeight(job)], 'quiet');
    case 'wider':
      return standingLine(MARKS.alert, 'WIDER', 'than planned; the spigot will match the bore', 'near');
    case 'typed':
    case 'still':
    case 'moving':
      return HELD[state.kind];
    case 'parallel':
      return standingLine(MARKS.full, 'PARALLEL', 'mouth and depth are the same', 'good');
    case 'tapered':
      return standingLine(MARKS.alert, 'TAPERED', taperFigure(state.taper, BORE_ENDS, bench.unit), 'near');
    default: {
      const never: never = state;
      throw new TypeError(`no such state: ${JSON.stringify(never)}`);
    }
  }
}

function factsOf(bench: Bench, job: Job, now: Length | null): readonly Figure[] {
  const { unit } = bench;
  const { mouth, depth, setup } = job;
  return [
    ...(now !== null ? [{ name: 'bore now', value: lengthFigure(now, unit) }] : []),
    ...(setup.plannedBore !== undefined
      ? [{ name: 'planned', value: lengthFigure(setup.plannedBore, unit) }]
      : []),
    ...(mouth ? [{ name: 'mouth', value: lengthFigure(mouth.diameter, unit) }] : []),
    ...(depth ? [{ name: 'depth', value: lengthFigure(depth.diameter, unit) }] : []),
    ...taperFact(boreAlong(job), null, unit),
  ];
}
