// Spigot: what is left to the target, which side of it the work is on, and the fit that gives.
import { correctReading } from '../../core/bench/correct-reading.ts';
import type { Job, Spigot } from '../../core/bench/job.ts';
import { howHeld } from '../../core/bench/stages/rules.ts';
import { type Diameter, nextSpigotSize, spigotStanding } from '../../core/bench/stages/spigot.ts';
import type { Bench } from '../../core/bench/state.ts';
import { type Aim, expectedOf, type NoAim, type Zone, zoneOf } from '../../core/bench/target.ts';
import { cutFigure, leftFigure, lengthFigure } from '../../core/figures.ts';
import { mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { stageKeys } from '../key-table.ts';
import { type Big, MARKS, type Scene } from '../scene.ts';
import type { Style } from '../styled-text.ts';
import { safe } from '../text.ts';
import { aimFor } from './memo.ts';
import {
  againHint,
  bigLength,
  bigNothing,
  bigReading,
  HELD,
  isReceiving,
  keepTyped,
  liveStyle,
  staleness,
  standingLine,
  wakeAdvice,
} from './scene-parts.ts';
import { aimFacts, barOf, fitFacts, halfOf, liveFacts } from './spigot-facts.ts';
import { nextStep, waiting, zoneStanding } from './spigot-words.ts';

export function spigotScene(bench: Bench, job: Job): Scene {
  const aim = aimFor(job);
  return aim.kind === 'aim' ? aimed(bench, job, aim) : unaimed(bench, job, aim);
}

function unaimed(bench: Bench, job: Job, aim: NoAim): Scene {
  const missing = aim.kind === 'missing';
  const why = aim.kind === 'no-fit' ? safe(aim.why) : "the bore sets the spigot's size";
  return {
    ...frame,
    big: bigNothing(bench.unit, 'target spigot'),
    standing: standingLine(
      missing ? MARKS.open : MARKS.cross,
      missing ? 'NO BORE YET' : 'NO FIT',
      why,
      missing ? 'quiet' : 'bad',
    ),
    facts: job.bore ? [{ name: 'bore', value: lengthFigure(job.bore.diameter, bench.unit) }] : [],
    panel: null,
    next: missing
      ? 'Type the bore and press Enter, or press b for bore size.'
      : 'Press b to measure the bore again, or w for a job with another pitch, cutter or depth.',
  };
}

const frame = {
  title: 'spigot',
  caution: cautionAt.spigot,
  keys: stageKeys('keep'),
  typing: null,
} as const;

function aimed(bench: Bench, job: Job, aim: Aim): Scene {
  const keys = stageKeys('keep', againHint(bench, nextSpigotSize({ ...bench, job })));
  const { place } = bench;
  return job.spigot && place !== 'first'
    ? { ...otherSize(bench, job, job.spigot, place), keys }
    : { ...firstSize(bench, job, aim), keys };
}

function firstSize(bench: Bench, job: Job, aim: Aim): Scene {
  const { now, zone, moving, isKept } = spigotStanding({ ...bench, job }, aim);
  const size = now && !isKept ? { diameter: now.value } : job.spigot;
  const mayStop = isKept || (zone !== 'far' && zone !== 'near');
  const expected = size && mayStop ? expectedOf(job, size) : null;
  const stale = now ? staleness(bench, bench.readings.at(-1)) : null;
  const shown = now ?? (job.spigot && { value: job.spigot.diameter, step: job.setup.caliper.step });
  return {
    ...frame,
    big: now && zone ? remaining(bench, job, now, aim, zone) : untouched(bench, job, aim),
    standing:
      stale ??
      (isKept || !zone
        ? waiting(bench, job, aim)
        : moving
          ? HELD.moving
          : zoneStanding(zone, job, expected, bench.unit)),
    facts: [
      ...liveFacts(job, now, aim, bench.unit),
      ...aimFacts(job, aim, expected, bench.unit),
      ...fitFacts(job, expected),
    ],
    panel: {
      kind: 'bar',
      bar: barOf(
        job,
        shown,
        aim,
        shown && (zone ?? zoneOf(aim, shown.value, shown.step)),
        bench.unit,
        stale !== null,
      ),
    },
    next:
      stale !== null
        ? wakeAdvice(bench)
        : moving && !isKept
          ? 'Hold the jaws still on the spigot.'
          : nextStep(bench, job, isKept ? null : zone, expected),
  };
}

const OTHER_SIZES = {
  across: {
    label: 'spigot, a quarter turn round',
    where: 'a quarter turn round',
    how: 'Move the caliper a quarter turn round the spigot, at its shoulder.',
  },
  end: { label: 'spigot, at its end', where: 'at its end', how: 'Measure the spigot at its end.' },
} as const;

/** What is measured of a spigot besides the size it is known by. */
function otherSize(bench: Bench, job: Job, spigot: Spigot, place: 'across' | 'end'): Scene {
  const { unit, readings } = bench;
  const { label, where, how } = OTHER_SIZES[place];
  const last = readings.at(-1);
  const stale = last ? staleness(bench, last) : null;
  const value = last && correctReading(job, last.value, 'outside');
  const held = howHeld({ ...bench, job });
  return {
    ...frame,
    big:
      last && value !== undefined
        ? bigReading(value, last.step, unit, label, liveStyle(bench, last))
        : bigNothing(unit, label),
    standing: stale ?? (!last ? standingLine(MARKS.open, 'NO READING YET', where, 'quiet') : HELD[held]),
    facts: [{ name: 'kept at its shoulder', value: lengthFigure(spigot.diameter, unit) }],
    panel: null,
    next: stale
      ? wakeAdvice(bench)
      : held === 'typed'
        ? keepTyped(where)
        : `${how} ${isReceiving(bench) ? 'Hold the jaws still and press' : 'Type the reading and press'} Enter. Or press n to go on.`,
  };
}

/** With nothing measured since: the spigot as kept, or the size to turn it to. */
function untouched({ unit }: Bench, job: Job, aim: Aim): Big {
  const { spigot } = job;
  if (!spigot)
    return {
      text: cutFigure(aim.target, unit, halfOf(job)),
      unit,
      label: 'target spigot, on the diameter',
      style: 'value',
    };
  const style = spigot.fit === 'running' ? 'good' : 'past';
  return bigLength(spigot.diameter, unit, 'spigot, as kept', style);
}

const ZONE_STYLES: { readonly [zone in Zone]: Style } = {
  far: 'value',
  near: 'near',
  at: 'at',
  under: 'past',
  past: 'past',
};

/** Labels the figure; at size nothing is left to take off, and zero is on neither side. */
function remainingLabel(shown: number, zone: Zone): string {
  if (zone === 'at' || shown === 0) return 'from target, on the diameter';
  return shown < 0 ? 'below target, on the diameter' : 'left to turn off, on the diameter';
}

function remaining(bench: Bench, job: Job, now: Diameter, aim: Aim, zone: Zone): Big {
  const { unit } = bench;
  const text = leftFigure(mm(now.value - aim.target), now.step, unit, halfOf(job));
  const style = liveStyle(bench, bench.readings.at(-1), ZONE_STYLES[zone]);
  return { text, unit, label: remainingLabel(Number(text), zone), style };
}
