// Zero: what the closed jaws show, whether they are steady, and the ring of known size where the jaw land is wanted.
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { type ZeroState, zeroAge, zeroState } from '../../core/bench/stages/zero.ts';
import { lengthFigure, spanFigure } from '../../core/figures.ts';
import { verdictOf } from '../../core/measure/verdict.ts';
import { mm } from '../../core/units.ts';
import { type Big, type Figure, MARKS, type Standing } from '../scene.ts';
import { byKind, zeroWords } from '../words.ts';
import { tracePanel } from './bore-size.ts';
import {
  bigLength,
  bigRead,
  isReceiving,
  type StageScene,
  staleSaying,
  standingLine,
} from './scene-parts.ts';

export const zeroScene = (bench: WithJob): StageScene => ({
  facts: factsOf(bench),
  ...(bench.ring === null ? closedJaws(bench) : ring(bench, bench.ring)),
});

function closedJaws(bench: WithJob): StageScene {
  const state = zeroState(bench);
  return {
    big: closedBig(bench),
    ...(staleSaying(bench, bench.readings.at(-1)) ?? {
      standing: jawsStanding(state, bench),
      next: closedNext(bench, state),
    }),
  };
}

function closedBig(bench: WithJob): Big {
  const { readings, job, unit } = bench;
  const last = readings.at(-1);
  if (last || !job.zero) return bigRead(bench, last, 'closed jaws show');
  const style = zeroAge(bench, job) === 'fresh' ? 'good' : 'value';
  return bigLength(job.zero.error, unit, 'zero error, taken off every reading', style);
}

const jawsStanding = byKind<ZeroState, Standing, [bench: WithJob]>({
  open: standingLine(MARKS.open, 'OPEN', "the jaws aren't closed", 'near'),
  kept: (_, bench) => keptStanding(bench),
  steady: ({ spread }, { unit }) =>
    standingLine(MARKS.full, 'STEADY', `within ${spanFigure(spread, unit)}`, 'at'),
  wandering({ spread, allowed }, { unit }) {
    const about = `by ${lengthFigure(spread, unit)}; ${lengthFigure(allowed, unit)} allowed`;
    return standingLine(MARKS.alert, 'WANDERS', about, 'past');
  },
  'too-few': ({ found, needed }) =>
    standingLine(MARKS.open, 'NOT CHECKED', `${found} of ${needed} readings`, 'quiet'),
});

/** A kept zero that is a day old, or older than the board's last start, has to be checked again. */
function keptStanding(bench: WithJob): Standing {
  const age = zeroAge(bench, bench.job);
  if (age === 'fresh' || age === 'unchecked') return standingLine(MARKS.full, 'KEPT', 'for this job', 'good');
  const why = age === 'old' ? 'checked more than a day ago' : 'the board restarted since';
  return standingLine(MARKS.alert, 'CHECK AGAIN', why, 'near');
}

const CLOSE = 'Close the empty jaws and leave them closed.';

function closedNext(bench: WithJob, state: ZeroState): string {
  const { job } = bench;
  if (state.kind === 'open') return CLOSE;
  if (state.kind === 'wandering')
    return "Wipe the jaws, close them gently, press a and wait until they're steady.";
  if (state.kind === 'steady' && !state.isKept)
    return 'Press Enter to keep this zero error. It is taken off every reading.';
  if (state.kind === 'kept' && zeroAge(bench, job) !== 'fresh') return CLOSE;
  if (job.zero) return 'Press n to go on. For small bores, type the size of a ring to measure the jaw land.';
  return isReceiving(bench)
    ? CLOSE
    : 'Close the jaws, type the reading and press Enter, three times. Or press n to go on.';
}

function ring(bench: WithJob, known: number): StageScene {
  const verdict = bench.capture ? verdictOf(bench.capture) : null;
  const agreed = verdict?.state === 'steady';
  const size = lengthFigure(mm(known), bench.unit);
  const big = bigRead(bench, bench.readings.at(-1), 'in the ring', agreed ? verdict.diameter : undefined);
  return {
    big: agreed ? { ...big, style: 'at' } : big,
    standing: agreed
      ? standingLine(MARKS.full, 'STEADY', `ring of ${size}`, 'at')
      : standingLine(MARKS.half, 'RING', `known size ${size}`, 'near'),
    panel: tracePanel(bench),
    next: agreed
      ? 'Press Enter to keep this jaw land.'
      : 'Rock the inside jaws in the ring until the peaks agree, or type the reading. Press a to give up on the ring.',
  };
}

const factsOf = (bench: WithJob): readonly Figure[] => [
  { name: 'zero', value: zeroWords(bench, bench.job) },
  {
    name: 'jaw land',
    value: bench.job.ring ? lengthFigure(bench.job.ring.land, bench.unit) : 'not measured',
  },
  { name: 'caliper', value: bench.job.setup.caliper.name },
];
