// Zero: what the closed jaws show, whether they are steady, and the ring of known size where the jaw land is wanted.
import type { Job } from '../../core/bench/job.ts';
import type { Bench } from '../../core/bench/state.ts';
import { zeroAge } from '../../core/bench/zero-age.ts';
import { lengthFigure, spanFigure } from '../../core/figures.ts';
import { CLOSED_AT_MOST, checkZero } from '../../core/measure/corrections.ts';
import { verdictOf } from '../../core/measure/verdict.ts';
import { mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { stageKeys } from '../key-hints.ts';
import { type Figure, MARKS, type Scene, type Standing } from '../scene.ts';
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
  const big = last
    ? bigReading(last.value, last.step, bench.unit, 'closed jaws show', liveStyle(bench, last))
    : job.zero
      ? bigLength(
          job.zero.error,
          bench.unit,
          'zero error, taken off every reading',
          zeroAge(bench, job) === 'fresh' ? 'good' : 'value',
        )
      : bigNothing(bench.unit, 'closed jaws show');
  return { big, standing: jawsStanding(bench, job), panel: null, next: closedNext(bench, job) };
}

const areOpen = ({ readings: heard }: Bench): boolean => Math.abs(heard.at(-1)?.value ?? 0) > CLOSED_AT_MOST;

function jawsStanding(bench: Bench, job: Job): Standing {
  const stale = bench.readings.length > 0 ? staleness(bench, bench.readings.at(-1)) : null;
  if (stale) return stale;
  if (areOpen(bench)) return standingLine(MARKS.open, 'OPEN', "the jaws aren't closed", 'near');
  const check = checkZero(bench.readings);
  if (check.kind === 'steady')
    return standingLine(MARKS.full, 'STEADY', `within ${spanFigure(check.spread, bench.unit)}`, 'at');
  if (check.kind === 'wandering')
    return standingLine(
      MARKS.alert,
      'WANDERS',
      `by ${lengthFigure(check.spread, bench.unit)}; ${lengthFigure(check.allowed, bench.unit)} allowed`,
      'past',
    );
  if (bench.readings.length === 0 && job.zero) return keptStanding(bench, job);
  return standingLine(MARKS.open, 'NOT CHECKED', `${check.found} of ${check.needed} readings`, 'quiet');
}

/** A kept zero that is a day old, or older than the board's last start, is to be looked at again. */
function keptStanding(bench: Bench, job: Job): Standing {
  switch (zeroAge(bench, job)) {
    case 'old':
      return standingLine(MARKS.alert, 'CHECK AGAIN', 'checked more than a day ago', 'near');
    case 'restarted':
      return standingLine(MARKS.alert, 'CHECK AGAIN', 'the board restarted since', 'near');
    default:
      return standingLine(MARKS.full, 'KEPT', 'for this job', 'good');
  }
}

const CLOSE = 'Close the empty jaws and leave them closed.';

function closedNext(bench: Bench, job: Job): string {
  if (bench.readings.length > 0 && staleness(bench, bench.readings.at(-1))) return wakeAdvice(bench);
  if (areOpen(bench)) return CLOSE;
  const check = checkZero(bench.readings);
  if (check.kind === 'wandering')
    return "Wipe the jaws, close them gently, press a and wait until they're steady.";
  const same = check.kind === 'steady' && Math.abs(check.error - (job.zero?.error ?? Number.NaN)) < 1e-9;
  if (check.kind === 'steady' && !same)
    return 'Press Enter to keep this zero error. It is taken off every reading.';
  if (job.zero && bench.readings.length === 0 && zeroAge(bench, job) !== 'fresh') return CLOSE;
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
