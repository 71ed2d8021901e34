// Spigot: what is left to the target, which side of it the work is on, and the fit that gives.

import type { Spigot } from '../../core/bench/job.ts';
import { correctReading, howHeld } from '../../core/bench/stages/readings.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { type Diameter, nextSpigotSize, spigotStanding } from '../../core/bench/stages/spigot.ts';
import { type Aim, expectedOf, type NoAim, type Zone, zoneOf } from '../../core/bench/target.ts';
import { cutFigure, leftFigure, lengthFigure } from '../../core/figures.ts';
import { mm } from '../../core/units.ts';
import { cautionAt } from '../help.ts';
import { stageKeys } from '../keymap.ts';
import { type Big, MARKS, type Scene } from '../scene.ts';
import type { Style } from '../styled-text.ts';
import { safe } from '../text.ts';
import {
  againHint,
  aimFor,
  bigLength,
  bigNothing,
  bigRead,
  factsFrom,
  HELD,
  isReceiving,
  keepTyped,
  knownLength,
  liveStyle,
  notRead,
  staleSaying,
  standingLine,
} from './scene-parts.ts';
import { aimFacts, barOf, fitFacts, halfOf, liveFacts } from './spigot-facts.ts';
import { nextStep, waiting, zoneStanding } from './spigot-words.ts';

export function spigotScene(bench: WithJob): Scene {
  const aim = aimFor(bench.job);
  return aim.kind === 'aim' ? aimed(bench, aim) : unaimed(bench, aim);
}

function unaimed({ unit, job }: WithJob, aim: NoAim): Scene {
  const standing =
    aim.kind === 'no-fit'
      ? standingLine(MARKS.cross, 'NO FIT', safe(aim.why), 'bad')
      : standingLine(MARKS.open, 'NO BORE YET', "the bore sets the spigot's size", 'quiet');
  return {
    ...frame,
    big: bigNothing(unit, 'target spigot'),
    standing,
    facts: factsFrom({ bore: knownLength(job.bore?.diameter, unit) }),
    panel: null,
    next:
      aim.kind === 'no-fit'
        ? 'Press b to measure the bore again, or w for a job with another pitch, cutter or depth.'
        : 'Type the bore and press Enter, or press b for bore size.',
  };
}

const frame = {
  title: 'spigot',
  caution: cautionAt.spigot,
  keys: stageKeys('keep'),
  typing: null,
} as const;

function aimed(bench: WithJob, aim: Aim): Scene {
  const { place, job } = bench;
  const scene = job.spigot && place !== 'first' ? otherSize(bench, job.spigot, place) : firstSize(bench, aim);
  return { ...scene, keys: stageKeys('keep', againHint(bench, nextSpigotSize(bench))) };
}

function firstSize(bench: WithJob, aim: Aim): Scene {
  const { job, unit } = bench;
  const { now, zone, moving, isKept } = spigotStanding(bench, aim);
  const size = now && !isKept ? { diameter: now.value } : job.spigot;
  const mayStop = isKept || (zone !== 'far' && zone !== 'near');
  const expected = size && mayStop ? expectedOf(job, size) : null;
  const stale = now && staleSaying(bench, bench.readings.at(-1));
  const shown = now ?? (job.spigot && { value: job.spigot.diameter, step: job.setup.caliper.step });
  const here = shown && (zone ?? zoneOf(aim, shown.value, shown.step));
  const said = {
    standing:
      isKept || !zone ? waiting(bench, aim) : moving ? HELD.moving : zoneStanding(zone, job, expected, unit),
    next:
      moving && !isKept
        ? 'Hold the jaws still on the spigot.'
        : nextStep(bench, isKept ? null : zone, expected),
  };
  return {
    ...frame,
    big: now && zone ? remaining(bench, now, aim, zone) : untouched(bench, aim),
    facts: [
      ...liveFacts(job, now, aim, unit),
      ...aimFacts(job, aim, expected, unit),
      ...fitFacts(job, expected),
    ],
    panel: { kind: 'bar', ...barOf(job, shown, aim, here, unit, stale !== null) },
    ...(stale ?? said),
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
function otherSize(bench: WithJob, spigot: Spigot, place: 'across' | 'end'): Scene {
  const { unit, readings, job } = bench;
  const { label, where, how } = OTHER_SIZES[place];
  const last = readings.at(-1);
  const held = howHeld(bench);
  const press = isReceiving(bench) ? 'Hold the jaws still and press' : 'Type the reading and press';
  return {
    ...frame,
    big: bigRead(bench, last, label, last && correctReading(job, last.value, 'outside')),
    facts: [{ name: 'kept at its shoulder', value: lengthFigure(spigot.diameter, unit) }],
    panel: null,
    ...(staleSaying(bench, last) ?? {
      standing: last ? HELD[held] : notRead(where),
      next: held === 'typed' ? keepTyped(where) : `${how} ${press} Enter. Or press n to go on.`,
    }),
  };
}

/** With nothing measured since: the spigot as kept, or the size to turn it to. */
function untouched({ unit, job }: WithJob, aim: Aim): Big {
  const { spigot } = job;
  const text = cutFigure(aim.target, unit, halfOf(job));
  if (!spigot) return { text, unit, label: 'target spigot, on the diameter', style: 'value' };
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

function remaining(bench: WithJob, now: Diameter, aim: Aim, zone: Zone): Big {
  const { unit, job } = bench;
  const text = leftFigure(mm(now.value - aim.target), now.step, unit, halfOf(job));
  const style = liveStyle(bench, bench.readings.at(-1), ZONE_STYLES[zone]);
  return { text, unit, label: remainingLabel(Number(text), zone), style };
}
