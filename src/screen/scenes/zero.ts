// Zero: what the closed jaws show, whether they are steady, and the ring of known size where the jaw land is wanted.
import type { Job } from '../../core/bench/job.ts';
import { type ZeroState, zeroState } from '../../core/bench/stages/zero.ts';
import type { Bench } from '../../core/bench/state.ts';
import { zeroAge } from '../../core/bench/zero-age.ts';
import { lengthFigure, spanFigure } from '../../core/figures.ts';
import { verdictOf } from '../../core/measure/verdict.ts';
import { mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { stageKeys } from '../key-table.ts';
import { type Big, type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
import { zeroWords } from '../words.ts';
import { traceOf } from './bore-size.ts';
import {
  bigLength,
  bigNothing,
  bigReading,
  isReceiving,
  liveStyle,
  staleness,
  standingLine,
  wakeAdvice,
} from './scene-parts.ts';

export function zeroScene(bench: Bench, job: Job): Scene {
  const common = {
    title: 'zero',
    facts: factsOf(bench, job),
    caution: cautionAt.zero,
    keys: stageKeys('keep'),
    typing: null,
  };
  return { ...common, ...(bench.ring === null ? closedJaws(bench, job) : ring(bench, bench.ring)) };
}

type Saying = Pick<Scene, 'big' | 'standing' | 'panel' | 'next'>;

function closedJaws(bench: Bench, job: Job): Saying {
  const last = bench.readings.at(-1);
  const stale = last ? staleness(bench, last) : null;
  const state = zeroState({ ...bench, job });
  return {
    big: closedBig(bench, job),
    standing: stale ?? jawsStanding(bench, job, state),
    panel: null,
    next: stale ? wakeAdvice(bench) : closedNext(bench, job, state),
  };
}

function closedBig(bench: Bench, job: Job): Big {
  const last = bench.readings.at(-1);
  if (last) return bigReading(last.value, last.step, bench.unit, 'closed jaws show', liveStyle(bench, last));
  if (!job.zero) return bigNothing(bench.unit, 'closed jaws show');
  const style = zeroAge(bench, job) === 'fresh' ? 'good' : 'value';
  return bigLength(job.zero.error, bench.unit, 'zero error, taken off every reading', style);
}

function jawsStanding(bench: Bench, job: Job, state: ZeroState): Standing {
  const { unit } = bench;
  switch (state.kind) {
    case 'open':
      return standingLine(MARKS.open, 'OPEN', "the jaws aren't closed", 'near');
    case 'kept':
      return keptStanding(bench, job);
    case 'steady':
      return standingLine(MARKS.full, 'STEADY', `within ${spanFigure(state.spread, unit)}`, 'at');
    case 'wandering': {
      const about = `by ${lengthFigure(state.spread, unit)}; ${lengthFigure(state.allowed, unit)} allowed`;
      return standingLine(MARKS.alert, 'WANDERS', about, 'past');
    }
    case 'too-few':
      return standingLine(MARKS.open, 'NOT CHECKED', `${state.found} of ${state.needed} readings`, 'quiet');
    default:
      return state satisfies never;
  }
}

/** A kept zero that is a day old, or older than the board's last start, has to be checked again. */
function keptStanding(bench: Bench, job: Job): Standing {
  const age = zeroAge(bench, job);
  if (age === 'fresh' || age === 'unchecked') return standingLine(MARKS.full, 'KEPT', 'for this job', 'good');
  const why = age === 'old' ? 'checked more than a day ago' : 'the board restarted since';
  return standingLine(MARKS.alert, 'CHECK AGAIN', why, 'near');
}

const CLOSE = 'Close the empty jaws and leave them closed.';

function closedNext(bench: Bench, job: Job, state: ZeroState): string {
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

function ring(bench: Bench, known: number): Saying {
  const verdict = bench.capture ? verdictOf(bench.capture) : null;
  const last = bench.readings.at(-1);
  const agreed = verdict?.state === 'steady';
  return {
    big: last
      ? bigReading(
          agreed ? verdict.diameter : last.value,
          last.step,
          bench.unit,
          'in the ring',
          agreed ? 'at' : liveStyle(bench, last),
        )
      : bigNothing(bench.unit, 'in the ring'),
    standing: agreed
      ? standingLine(MARKS.full, 'STEADY', `ring of ${lengthFigure(mm(known), bench.unit)}`, 'at')
      : standingLine(MARKS.half, 'RING', `known size ${lengthFigure(mm(known), bench.unit)}`, 'near'),
    panel:
      bench.capture && bench.capture.readings.length > 0
        ? { kind: 'trace', trace: traceOf(bench.capture, bench.unit) }
        : null,
    next: agreed
      ? 'Press Enter to keep this jaw land.'
      : 'Rock the inside jaws in the ring until the peaks agree, or type the reading. Press a to give up on the ring.',
  };
}

const factsOf = (bench: Bench, job: Job): readonly Figure[] => [
  { name: 'zero', value: zeroWords(bench, job) },
  { name: 'jaw land', value: job.ring ? lengthFigure(job.ring.land, bench.unit) : 'not measured' },
  { name: 'caliper', value: job.setup.caliper.name },
];
