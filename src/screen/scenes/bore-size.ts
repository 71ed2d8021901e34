// Bore size: the rocked maximum as it is found, its tops, and the result with its doubt or why there is none.
import { correctReading } from '../../core/bench/correct-reading.ts';
import type { Job } from '../../core/bench/job.ts';
import type { Bench } from '../../core/bench/state.ts';
import { counted, figure, lengthFigure, spanFigure, withDoubt } from '../../core/figures.ts';
import type { Steady } from '../../core/measure/agreement.ts';
import { type Capture, peaksOf, recentReadings, rejectedReadings } from '../../core/measure/capture.ts';
import { type Verdict, verdictOf } from '../../core/measure/verdict.ts';
import { extentOf, meanOf } from '../../core/statistics.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { stageKeys } from '../key-hints.ts';
import type { Trace } from '../panels/trace.tsx';
import { rangeOf } from '../scales.ts';
import { type Figure, MARKS, type Panel, type Scene } from '../scene.ts';
import { DOUBT_CURES, doubtWords, zeroWords } from '../words.ts';
import { half95 } from './memo.ts';
import {
  bigLength,
  bigNothing,
  bigReading,
  isReceiving,
  liveStyle,
  staleness,
  standingLine,
  wakeAdvice,
  whyNothing,
} from './scene-parts.ts';

/** Readings that the widest drawing has room for. */
const SHOWN = 140;

export function traceOf(capture: Capture, unit: LengthUnit): Trace {
  const readings = recentReadings(capture, SHOWN);
  const first = capture.readings.length - readings.length;
  const heights = readings.map((reading) => reading.value);
  const out = rejectedReadings(capture).flatMap((place) => (place >= first ? [place - first] : []));
  const tops = peaksOf(capture).flatMap(({ from, agrees }) => {
    const place = (from[Math.floor(from.length / 2)] ?? -1) - first;
    return place >= 0 ? [{ place, agrees }] : [];
  });
  const range = rangeOf(
    heights,
    peaksOf(capture).map(({ value }) => value),
  );
  return {
    before: first,
    heights,
    tops,
    out,
    range,
    lowest: figure(mm(range.from), unit),
    highest: figure(mm(range.to), unit),
  };
}

const NOTHING_TRACED: Trace = {
  before: 0,
  heights: [],
  tops: [],
  out: [],
  range: { from: 0, to: 1 },
  lowest: '',
  highest: '',
};

/** Its place is kept while nothing is traced, so that nothing on the screen moves when the first reading comes. */
const tracePanel = (capture: Capture | null, unit: LengthUnit): Panel => ({
  kind: 'trace',
  trace: capture && capture.readings.length > 0 ? traceOf(capture, unit) : NOTHING_TRACED,
});

export function boreSizeScene(bench: Bench, job: Job): Scene {
  const verdict: Verdict = bench.capture ? verdictOf(bench.capture) : { state: 'waiting' };
  const common = {
    title: 'bore size',
    facts: factsOf(bench, job),
    panel: tracePanel(bench.capture, bench.unit),
    caution: cautionAt['bore size'],
    keys: stageKeys('keep'),
    typing: null,
  };
  return { ...common, ...saying(bench, job, verdict) };
}

type Saying = Pick<Scene, 'big' | 'standing' | 'next'>;

function saying(bench: Bench, job: Job, verdict: Verdict): Saying {
  if (bench.readings.length > 0) return typed(bench, job);
  if (verdict.state === 'steady') return agreed(bench, job, verdict);
  const rocked = verdict.state !== 'waiting' && verdict.peaks > 0;
  if (job.bore && !rocked && verdict.state !== 'doubtful') return taken(bench, job.bore);
  if (!bench.live) return nothing(bench);
  return rocking(bench, job, verdict);
}

function typed(bench: Bench, job: Job): Saying {
  const values = bench.readings.map(({ value }) => value);
  const mean = mm(meanOf(values));
  const spread = mm(extentOf(values));
  const about =
    values.length > 1
      ? `they lie ${lengthFigure(spread, bench.unit)} apart`
      : "one reading isn't enough to be sure";
  return {
    big: bigLength(
      correctReading(job, mean, 'bore'),
      bench.unit,
      'bore, mean of the typed readings',
      'value',
    ),
    standing: standingLine(MARKS.half, counted(values.length, 'VALUE').toUpperCase(), about, 'near'),
    next: 'Type the next reading and press Enter. Enter alone keeps the mean.',
  };
}

function agreed(bench: Bench, job: Job, verdict: Steady): Saying {
  const half = half95(verdict.standardUncertainty, verdict.degreesOfFreedom);
  const value = correctReading(job, verdict.diameter, 'bore');
  const about = `${withDoubt(value, half, bench.unit)}, ${peaksThatAgree(verdict)} within ${spanFigure(verdict.spread, bench.unit)}`;
  return {
    big: bigLength(value, bench.unit, 'bore, the true diameter', 'at'),
    standing: standingLine(MARKS.full, 'STEADY', about, 'at'),
    next: 'Press Enter to keep this bore. Keep rocking for a tighter figure.',
  };
}

const peaksThatAgree = ({ agreeing, peaks }: Steady): string =>
  agreeing === peaks ? counted(peaks, 'peak') : `${agreeing}/${peaks} peaks`;

function taken(bench: Bench, bore: NonNullable<Job['bore']>): Saying {
  return {
    big: bigLength(bore.diameter, bench.unit, 'bore, as kept', 'good'),
    standing: standingLine(MARKS.full, 'KEPT', takenAbout(bench, bore), 'good'),
    next: 'Press n for the spigot, or rock again to replace this bore.',
  };
}

function takenAbout(
  bench: Bench,
  { standard, degreesOfFreedom, diameter, agreeing, how }: NonNullable<Job['bore']>,
): string {
  if (standard === null || degreesOfFreedom === null)
    return how === 'typed' ? `from ${counted(agreeing, 'typed value')}` : 'as read';
  return `${withDoubt(diameter, half95(standard, degreesOfFreedom), bench.unit)}, from ${counted(agreeing, 'peak')}`;
}

const nothing = (bench: Bench): Saying => ({
  big: bigNothing(bench.unit, 'bore'),
  standing: standingLine(MARKS.open, 'NO READING YET', whyNothing(bench), 'quiet'),
  next: isReceiving(bench)
    ? 'Open the inside jaws in the bore and rock them past the widest point.'
    : 'Rock the jaws in the bore, type the largest reading and press Enter. Do this three times.',
});

function rocking(bench: Bench, job: Job, verdict: Exclude<Verdict, Steady>): Saying {
  const { live } = bench;
  if (!live) return nothing(bench);
  const value = correctReading(job, live.reading.value, 'bore');
  const big = bigReading(value, live.reading.step, bench.unit, 'jaws now', liveStyle(bench));
  const stale = staleness(bench);
  if (verdict.state === 'doubtful') {
    const about = doubtWords(verdict.reason, bench.unit);
    return {
      big,
      standing: standingLine(MARKS.alert, 'DOUBTFUL', about, 'past'),
      next: DOUBT_CURES[verdict.reason.kind],
    };
  }
  if (stale)
    return {
      big,
      standing: stale,
      next: wakeAdvice(bench, 'the peaks so far are kept'),
    };
  if (verdict.state === 'waiting')
    return {
      big,
      standing: standingLine(MARKS.open, 'READY', 'not rocked yet', 'quiet'),
      next: 'Hold one jaw still and rock the other back and forth past the widest point.',
    };
  return {
    big,
    standing: progress(bench, verdict),
    next: 'Rock slowly until three peaks agree. Then tilt the caliper along the bore and use the smallest peak.',
  };
}

function progress(bench: Bench, verdict: Extract<Verdict, { state: 'rocking' }>) {
  const { peaks, agreeing, spread } = verdict;
  if (peaks === 0) return standingLine(MARKS.half, 'ROCKING', 'no peak yet', 'near');
  const apart = spread === null || peaks < 2 ? '' : `, within ${spanFigure(spread, bench.unit)}`;
  return standingLine(
    MARKS.half,
    'ROCKING',
    `${counted(peaks, 'peak')}, ${agreeing} agree${agreeing === 1 ? 's' : ''}${apart}`,
    'near',
  );
}

function factsOf(bench: Bench, job: Job): readonly Figure[] {
  const { unit } = bench;
  const { ring, setup } = job;
  const land = ring?.land ?? setup.caliper.jawLand;
  return [
    { name: 'zero', value: zeroWords(bench, job) },
    ...(land !== undefined && land > 0 ? [{ name: 'jaw land', value: lengthFigure(land, unit) }] : []),
    ...(setup.plannedBore !== undefined
      ? [{ name: 'planned', value: lengthFigure(setup.plannedBore, unit) }]
      : []),
  ];
}
