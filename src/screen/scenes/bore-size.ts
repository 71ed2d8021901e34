// Bore size: the rocked maximum as it is found, its peaks, and the result with its doubt or why it is doubtful.

import { boreDoubt, boreDoubtWith } from '../../core/bench/doubt.ts';
import type { Bore, Job } from '../../core/bench/job.ts';
import { asksAcross, ovalityIn } from '../../core/bench/out-of-true.ts';
import { nextBoreSize, type TypedBore, typedBore } from '../../core/bench/stages/bore.ts';
import { correctReading } from '../../core/bench/stages/readings.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import type { Bench } from '../../core/bench/state.ts';
import { counted, figure, lengthFigure, spanFigure, withDoubt } from '../../core/figures.ts';
import type { Steady } from '../../core/measure/agreement.ts';
import { peaksOf, recentReadings, rejectedReadings } from '../../core/measure/capture.ts';
import { type Verdict, verdictOf } from '../../core/measure/verdict.ts';
import { type LengthUnit, mm } from '../../core/units.ts';
import { stageKeys } from '../keymap.ts';
import { rangeOf } from '../panels/trace.ts';
import { type Figure, MARKS, type Panel, type Scene, type Standing } from '../scene.ts';
import { DOUBT_CURES, doubtWords, zeroWords } from '../words.ts';
import {
  againHint,
  bigLength,
  bigRead,
  type FactsByName,
  factsFrom,
  isReceiving,
  knownLength,
  liveRead,
  notRead,
  type Saying,
  type StageScene,
  staleSaying,
  standingLine,
  whyNothing,
} from './scene-parts.ts';

/** Readings that the widest drawing has room for. */
const SHOWN = 140;

/** Its place is kept while nothing is traced, so that nothing on the screen moves when the first reading comes. */
export function tracePanel({ capture, unit }: Bench): Panel {
  const readings = capture ? recentReadings(capture, SHOWN) : [];
  const before = (capture?.readings.length ?? 0) - readings.length;
  const heights = readings.map((reading) => reading.value);
  const found = capture ? peaksOf(capture) : [];
  const peaks = found.flatMap(({ from, agrees }) => {
    const place = (from[Math.floor(from.length / 2)] ?? -1) - before;
    return place >= 0 ? [{ place, agrees }] : [];
  });
  const rejected = capture ? rejectedReadings(capture) : [];
  const out = rejected.flatMap((place) => (place >= before ? [place - before] : []));
  const range = rangeOf(
    heights,
    found.map(({ value }) => value),
  );
  const [lowest, highest] = [figure(mm(range.from), unit), figure(mm(range.to), unit)];
  return { kind: 'trace', before, heights, peaks, out, range, lowest, highest };
}

export function boreSizeScene(bench: WithJob): StageScene {
  const said = saying(bench, bench.capture ? verdictOf(bench.capture) : { state: 'waiting' });
  return {
    facts: factsOf(bench),
    panel: bench.readings.length > 0 ? typedTable(bench) : tracePanel(bench),
    keys: stageKeys('keep', againHint(bench, nextBoreSize(bench))),
    ...(isAcross(bench) ? sayingAcross(said) : said),
  };
}

/** A quarter turn from the bore that was kept. */
const isAcross = ({ place, job }: WithJob): boolean => job.bore !== null && place === 'across';

/** The same as of the first size, with what is another. */
function sayingAcross({ big, standing, next }: Said): Said {
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

type Said = Saying & Pick<Scene, 'big'>;

function saying(bench: WithJob, verdict: Verdict): Said {
  const { bore } = bench.job;
  const typedOnes = typedBore(bench);
  if (typedOnes) return typed(bench, typedOnes);
  if (verdict.state === 'steady') return agreed(bench, verdict);
  if (bore && !isAcross(bench) && !isRocked(verdict)) return boreKept(bench, bore);
  return bench.live ? rocking(bench, verdict) : nothing(bench);
}

/** Jaws that only lie still take no new measurement. */
function isRocked(verdict: Verdict): boolean {
  if (verdict.state === 'doubtful') return verdict.reason.kind !== 'not-rocked';
  return verdict.state !== 'waiting' && verdict.peaks > 0;
}

function typed({ unit, readings, job }: WithJob, of: TypedBore): Said {
  const { mean, spread, allowed, agrees, scatter } = of;
  const big = bigLength(mean, unit, 'bore, mean of the typed readings', agrees ? 'value' : 'past');
  if (!agrees) {
    const about = `${lengthFigure(spread, unit)} apart, ${lengthFigure(allowed, unit)} allowed`;
    return {
      big,
      standing: standingLine(MARKS.alert, 'DOUBTFUL', about, 'past'),
      next: 'Press u to take back the last reading, or the up arrow to pick one and change it. Then measure again.',
    };
  }
  if (readings.length === 1)
    return {
      big,
      standing: standingLine(MARKS.half, '1 READING', "one reading isn't enough to be sure", 'near'),
      next: 'Measure again, type the reading and press Enter. Enter alone keeps this one.',
    };
  const half = mm(boreDoubtWith(job, scatter).expanded95);
  const about = `${withDoubt(mean, half, unit)}, within ${spanFigure(spread, unit)}`;
  const [mark, style] = readings.length < 3 ? ([MARKS.half, 'near'] as const) : ([MARKS.full, 'at'] as const);
  return {
    big,
    standing: standingLine(mark, `${readings.length} READINGS`, about, style),
    next: 'Press Enter to keep the mean, or type another reading.',
  };
}

/** What was typed, one a row, the newest last. */
const typedTable = ({ readings, unit }: Bench): Panel => ({
  kind: 'table',
  rows: readings.map(({ value }, at) => ({
    name: `reading ${at + 1}`,
    value: lengthFigure(value, unit),
    strong: at === readings.length - 1,
  })),
});

function agreed({ job, unit }: WithJob, verdict: Steady): Said {
  const value = correctReading(job, verdict.diameter, 'bore');
  const { standardUncertainty: standard, degreesOfFreedom } = verdict;
  const half = mm(boreDoubtWith(job, { standard, degreesOfFreedom }).expanded95);
  const about = `${withDoubt(value, half, unit)}, ${peaksThatAgree(verdict, unit)}`;
  return {
    big: bigLength(value, unit, 'bore, the true diameter', 'at'),
    standing: standingLine(MARKS.full, 'STEADY', about, 'at'),
    next: 'Press Enter to keep this bore. Keep rocking for a tighter figure.',
  };
}

export const peaksThatAgree = ({ agreeing, peaks, spread }: Steady, unit: LengthUnit): string =>
  `${agreeing === peaks ? counted(peaks, 'peak') : `${agreeing}/${peaks} peaks`} within ${spanFigure(spread, unit)}`;

function boreKept({ unit, job }: WithJob, bore: Bore): Said {
  const { agreeing, how, diameter } = bore;
  const half = mm(boreDoubt(job)?.expanded95 ?? 0);
  const from = how === 'rocked' ? counted(agreeing, 'peak') : counted(agreeing, 'typed reading');
  const oval = ovalityIn(bore);
  const ovalBy =
    oval && `${lengthFigure(oval.difference, unit)}: fits like ${lengthFigure(oval.narrowest, unit)}`;
  const kept = `${withDoubt(diameter, half, unit)}, from ${from}${oval ? ', round' : ''}`;
  return {
    big: bigLength(diameter, unit, 'bore, as kept', 'good'),
    standing:
      ovalBy && !oval.round
        ? standingLine(MARKS.alert, 'OVAL', ovalBy, 'near')
        : standingLine(MARKS.full, 'KEPT', kept, 'good'),
    next:
      oval === null && asksAcross(job, 'female')
        ? 'Press n for the spigot. This wood may be oval: press a and measure a quarter turn round.'
        : 'Press n for the spigot, or measure again to replace this bore.',
  };
}

const nothing = (bench: Bench): Said => ({
  big: bigRead(bench, undefined, 'bore'),
  standing: notRead(whyNothing(bench)),
  next: isReceiving(bench)
    ? 'Open the inside jaws in the bore and rock them past the widest point.'
    : 'Rock the jaws in the bore, type the largest reading and press Enter. Do this three times.',
});

function rocking(bench: WithJob, verdict: Exclude<Verdict, Steady>): Said {
  const last = liveRead(bench);
  const value = last && correctReading(bench.job, last.value, 'bore');
  const stale = verdict.state === 'doubtful' ? null : staleSaying(bench, last, '. The peaks so far are kept');
  const said = rockingSaying(verdict, bench.unit, {
    ready: 'Hold one jaw still and rock the other back and forth past the widest point.',
    going:
      'Rock slowly until three peaks agree. Then tilt the caliper along the bore and use the smallest peak.',
  });
  return { big: bigRead(bench, last, 'jaws now', value), ...(stale ?? said) };
}

/** What to say while peaks are looked for; how to rock before the first one and after it. */
export function rockingSaying(
  verdict: Exclude<Verdict, Steady>,
  unit: LengthUnit,
  how: { readonly ready: string; readonly going: string },
): Saying {
  if (verdict.state === 'waiting')
    return { standing: standingLine(MARKS.open, 'READY', 'not rocked yet', 'quiet'), next: how.ready };
  if (verdict.state === 'rocking') return { standing: progress(verdict, unit), next: how.going };
  const { reason } = verdict;
  return {
    standing: standingLine(MARKS.alert, 'DOUBTFUL', doubtWords(reason, unit), 'past'),
    next: DOUBT_CURES[reason.kind],
  };
}

function progress(
  { peaks, agreeing, spread }: Extract<Verdict, { state: 'rocking' }>,
  unit: LengthUnit,
): Standing {
  const apart = spread === null || peaks < 2 ? '' : `, within ${spanFigure(spread, unit)}`;
  const agree = `${agreeing} agree${agreeing === 1 ? 's' : ''}`;
  const about = peaks === 0 ? 'no peak yet' : `${counted(peaks, 'peak')}, ${agree}${apart}`;
  return standingLine(MARKS.half, 'ROCKING', about, 'near');
}

function factsOf(bench: WithJob): readonly Figure[] {
  const { unit, job } = bench;
  const { caliper, plannedBore } = job.setup;
  const land = job.ring?.land ?? caliper.jawLand;
  return factsFrom({
    ...ovalFacts(job, unit),
    zero: zeroWords(bench, job),
    'jaw land': land === undefined || land <= 0 ? null : lengthFigure(land, unit),
    planned: knownLength(plannedBore, unit),
  });
}

/** Both sizes of a bore measured a quarter turn apart, and what that does to the fit; while the second is measured, the first. */
function ovalFacts({ bore }: Job, unit: LengthUnit): FactsByName {
  const oval = ovalityIn(bore);
  if (!bore || !oval) return {};
  const loss = lengthFigure(mm(bore.diameter - oval.narrowest), unit);
  return {
    'one way': lengthFigure(bore.diameter, unit),
    'square to it': knownLength(bore.across, unit),
    fit: oval.round ? null : `tightens by ${loss} in the worst turn`,
  };
}
