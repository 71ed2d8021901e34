// Bore size: the rocked maximum as it is found, its peaks, and the result with its doubt or why it is doubtful.
import { correctReading } from '../../core/bench/correct-reading.ts';
import { boreDoubt, boreDoubtWith } from '../../core/bench/doubt.ts';
import type { Bore, Job } from '../../core/bench/job.ts';
import { asksAcross, ovalityIn } from '../../core/bench/out-of-true.ts';
import { nextBoreSize, type TypedBore, typedBore } from '../../core/bench/stages/bore.ts';
import type { Bench } from '../../core/bench/state.ts';
import { counted, figure, lengthFigure, spanFigure, withDoubt } from '../../core/figures.ts';
import { type Capture, peaksOf, recentReadings, rejectedReadings } from '../../core/measure/capture.ts';
import type { Steady } from '../../core/measure/level.ts';
import { type Verdict, verdictOf } from '../../core/measure/verdict.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { stageKeys } from '../key-table.ts';
import { rangeOf, type Trace } from '../panels/trace.ts';
import { type Figure, MARKS, type Panel, type Scene } from '../scene.ts';
import { DOUBT_CURES, doubtWords, zeroWords } from '../words.ts';
import {
  againHint,
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
  const peaks = peaksOf(capture).flatMap(({ from, agrees }) => {
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
    peaks,
    out,
    range,
    lowest: figure(mm(range.from), unit),
    highest: figure(mm(range.to), unit),
  };
}

const NOTHING_TRACED: Trace = {
  before: 0,
  heights: [],
  peaks: [],
  out: [],
  range: { from: 0, to: 1 },
  lowest: '',
  highest: '',
};

/** Its place is kept while nothing is traced, so that nothing on the screen moves when the first reading comes. */
export const tracePanel = (capture: Capture | null, unit: LengthUnit): Panel => ({
  kind: 'trace',
  trace: capture && capture.readings.length > 0 ? traceOf(capture, unit) : NOTHING_TRACED,
});

export function boreSizeScene(bench: Bench, job: Job): Scene {
  const verdict: Verdict = bench.capture ? verdictOf(bench.capture) : { state: 'waiting' };
  const common = {
    title: 'bore size',
    facts: factsOf(bench, job),
    panel: bench.readings.length > 0 ? typedTable(bench) : tracePanel(bench.capture, bench.unit),
    caution: cautionAt['bore size'],
    keys: stageKeys('keep', againHint(bench, nextBoreSize({ ...bench, job }))),
    typing: null,
  };
  const said = saying(bench, job, verdict);
  return { ...common, ...(isAcross(bench, job) ? sayingAcross(said) : said) };
}

/** A quarter turn from the bore that was kept. */
const isAcross = ({ place }: Bench, { bore }: Job): boolean => bore !== null && place === 'across';

/** The same as of the first size, with what is another. */
function sayingAcross({ big, standing, next }: Saying): Saying {
  const turn = 'Move the caliper a quarter turn round in the bore.';
  return {
    big: big && { ...big, label: `${big.label.replace(/^bore, /, '')}, a quarter turn round` },
    standing,
    next:
      standing?.word === 'STEADY' || standing?.word.endsWith('READINGS')
        ? 'Press Enter to keep it beside the first size.'
        : standing?.word === 'READY' || standing?.word === 'NO READING YET'
          ? `${turn} ${next}`
          : next,
  };
}

type Saying = Pick<Scene, 'big' | 'standing' | 'next'>;

function saying(bench: Bench, job: Job, verdict: Verdict): Saying {
  const typedOnes = typedBore({ ...bench, job });
  if (typedOnes) return typed(bench, job, typedOnes);
  if (verdict.state === 'steady') return agreed(bench, job, verdict);
  const rocked = verdict.state !== 'waiting' && verdict.peaks > 0;
  if (job.bore && !rocked && !isAcross(bench, job) && verdict.state !== 'doubtful')
    return boreKept(bench, job, job.bore);
  if (!bench.live) return nothing(bench);
  return rocking(bench, job, verdict);
}

function typed(bench: Bench, job: Job, of: TypedBore): Saying {
  const { unit, readings } = bench;
  const { mean, spread, allowed, agrees, scatter } = of;
  const apart = lengthFigure(spread, unit);
  const half = mm(boreDoubtWith(job, scatter).expanded95);
  const big = bigLength(mean, unit, 'bore, mean of the typed readings', agrees ? 'value' : 'past');
  if (!agrees)
    return {
      big,
      standing: standingLine(
        MARKS.alert,
        'DOUBTFUL',
        `${apart} apart, ${lengthFigure(allowed, unit)} allowed`,
        'past',
      ),
      next: 'Press u to take back the last reading, or the up arrow to pick one and change it. Then measure again.',
    };
  return readings.length > 1
    ? {
        big,
        standing: standingLine(
          readings.length < 3 ? MARKS.half : MARKS.full,
          `${readings.length} READINGS`,
          `${withDoubt(mean, half, unit)}, within ${spanFigure(spread, unit)}`,
          readings.length < 3 ? 'near' : 'at',
        ),
        next: 'Press Enter to keep the mean, or type another reading.',
      }
    : {
        big,
        standing: standingLine(MARKS.half, '1 READING', "one reading isn't enough to be sure", 'near'),
        next: 'Measure again, type the reading and press Enter. Enter alone keeps this one.',
      };
}

/** What was typed, one a row, the newest last. */
const typedTable = ({ readings, unit }: Bench): Panel => ({
  kind: 'table',
  table: {
    rows: readings.map(({ value }, at) => ({
      name: `reading ${at + 1}`,
      value: lengthFigure(value, unit),
      strong: at === readings.length - 1,
    })),
  },
});

function agreed(bench: Bench, job: Job, verdict: Steady): Saying {
  const value = correctReading(job, verdict.diameter, 'bore');
  const { standardUncertainty: standard, degreesOfFreedom } = verdict;
  const half = mm(boreDoubtWith(job, { standard, degreesOfFreedom }).expanded95);
  const about = `${withDoubt(value, half, bench.unit)}, ${peaksThatAgree(verdict)} within ${spanFigure(verdict.spread, bench.unit)}`;
  return {
    big: bigLength(value, bench.unit, 'bore, the true diameter', 'at'),
    standing: standingLine(MARKS.full, 'STEADY', about, 'at'),
    next: 'Press Enter to keep this bore. Keep rocking for a tighter figure.',
  };
}

export const peaksThatAgree = ({ agreeing, peaks }: Steady): string =>
  agreeing === peaks ? counted(peaks, 'peak') : `${agreeing}/${peaks} peaks`;

function boreKept(bench: Bench, job: Job, bore: Bore): Saying {
  const { unit } = bench;
  const { agreeing, how, diameter } = bore;
  const half = mm(boreDoubt(job)?.expanded95 ?? 0);
  const from = how === 'rocked' ? counted(agreeing, 'peak') : counted(agreeing, 'typed reading');
  const oval = ovalityIn(bore);
  const round = oval ? ', round' : '';
  return {
    big: bigLength(diameter, unit, 'bore, as kept', 'good'),
    standing:
      oval && !oval.round
        ? standingLine(
            MARKS.alert,
            'OVAL',
            `${lengthFigure(oval.difference, unit)}: fits like ${lengthFigure(oval.narrowest, unit)}`,
            'near',
          )
        : standingLine(
            MARKS.full,
            'KEPT',
            `${withDoubt(diameter, half, unit)}, from ${from}${round}`,
            'good',
          ),
    next:
      oval === null && asksAcross(job, 'female')
        ? 'Press n for the spigot. This wood may be oval: press a and measure a quarter turn round.'
        : 'Press n for the spigot, or measure again to replace this bore.',
  };
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
      next: wakeAdvice(bench, '. The peaks so far are kept'),
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

export function progress(bench: Bench, verdict: Extract<Verdict, { state: 'rocking' }>) {
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
    ...ovalFacts(job, unit),
    { name: 'zero', value: zeroWords(bench, job) },
    ...(land !== undefined && land > 0 ? [{ name: 'jaw land', value: lengthFigure(land, unit) }] : []),
    ...(setup.plannedBore !== undefined
      ? [{ name: 'planned', value: lengthFigure(setup.plannedBore, unit) }]
      : []),
  ];
}

/** Both sizes of a bore measured a quarter turn apart, and what that does to the fit; while the second is measured, the first. */
function ovalFacts({ bore }: Job, unit: LengthUnit): readonly Figure[] {
  const oval = ovalityIn(bore);
  if (!bore || bore.across === undefined || !oval) return [];
  const loss = mm(bore.diameter - oval.narrowest);
  return [
    { name: 'one way', value: lengthFigure(bore.diameter, unit) },
    { name: 'square to it', value: lengthFigure(bore.across, unit) },
    ...(!oval.round
      ? [{ name: 'fit', value: `tightens by ${lengthFigure(loss, unit)} in the worst turn` }]
      : []),
  ];
}
