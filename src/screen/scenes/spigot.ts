// Spigot: what is left to the target and the bar toward it, which side of it the work is on, and the fit that gives.

import type { Job, Spigot } from '../../core/bench/job.ts';
import { boreAlong, SPIGOT_ENDS, spigotAlong } from '../../core/bench/out-of-true.ts';
import { correctReading, howHeld } from '../../core/bench/stages/readings.ts';
import type { WithJob } from '../../core/bench/stages/rules.ts';
import { type Diameter, nextSpigotSize, spigotStanding } from '../../core/bench/stages/spigot.ts';
import {
  type Aim,
  boundsOverRange,
  expectedOf,
  NEAR,
  type NoAim,
  type Zone,
  zoneOf,
} from '../../core/bench/target.ts';
import { isUnmeasured } from '../../core/bench/threads.ts';
import { seasonText } from '../../core/bench/typed-quantity.ts';
import {
  band,
  counted,
  cutFigure,
  leftFigure,
  lengthFigure,
  percent,
  taperFigure,
  withDoubt,
} from '../../core/figures.ts';
import { chancesOf } from '../../core/thread/chances.ts';
import { isSame, taperOf } from '../../core/thread/taper-and-oval.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { stageKeys } from '../keymap.ts';
import { type Bar, placeOf } from '../panels/bar.ts';
import { type Big, type Figure, MARKS } from '../scene.ts';
import { type Style, safe } from '../text.ts';
import { looseness } from '../words.ts';
import {
  againHint,
  aimFor,
  bigLength,
  bigNothing,
  bigRead,
  doubtFor,
  type FactsByName,
  factsFrom,
  HELD,
  halfOf,
  isReceiving,
  keepTyped,
  knownLength,
  liveStyle,
  notRead,
  type StageScene,
  signed,
  staleSaying,
  standingLine,
  taperWords,
} from './scene-parts.ts';
import { type Gives, nextStep, waiting, zoneStanding } from './spigot-words.ts';

export function spigotScene(bench: WithJob): StageScene {
  const { place, job } = bench;
  const aim = aimFor(job);
  if (aim.kind !== 'aim') return unaimed(bench, aim);
  const scene = job.spigot && place !== 'first' ? otherSize(bench, job.spigot, place) : firstSize(bench, aim);
  return { ...scene, keys: stageKeys('keep', againHint(bench, nextSpigotSize(bench))) };
}

const unaimed = ({ unit, job }: WithJob, aim: NoAim): StageScene => ({
  big: bigNothing(unit, 'target spigot'),
  facts: factsFrom({ bore: knownLength(job.bore?.diameter, unit) }),
  ...(aim.kind === 'no-fit'
    ? {
        standing: standingLine(MARKS.cross, 'NO FIT', safe(aim.why), 'bad'),
        next: 'Press b to measure the bore again, or w for a job with another pitch, cutter or depth.',
      }
    : {
        standing: standingLine(MARKS.open, 'NO BORE YET', "the bore sets the spigot's size", 'quiet'),
        next: 'Type the bore and press Enter, or press b for bore size.',
      }),
});

function firstSize(bench: WithJob, aim: Aim): StageScene {
  const { job, unit } = bench;
  const { now, zone, moving, isKept } = spigotStanding(bench, aim);
  const size = now && !isKept ? { diameter: now.value } : job.spigot;
  const mayStop = isKept || (zone !== 'far' && zone !== 'near');
  const gives = size && mayStop ? expectedOf(job, size) : null;
  const stale = now && staleSaying(bench, bench.readings.at(-1));
  const shown = now ?? (job.spigot && { value: job.spigot.diameter, step: job.setup.caliper.step });
  const here = shown && (zone ?? zoneOf(aim, shown.value, shown.step));
  const said = {
    standing:
      isKept || !zone ? waiting(bench, aim) : moving ? HELD.moving : zoneStanding(zone, job, gives, unit),
    next:
      moving && !isKept ? 'Hold the jaws still on the spigot.' : nextStep(bench, isKept ? null : zone, gives),
  };
  return {
    big: now && zone ? remaining(bench, now, aim, zone) : untouched(bench, aim),
    facts: factsOf(bench, now, aim, gives),
    panel: { kind: 'bar', zone: here, stale: stale !== null, ...barOf(bench, shown, aim) },
    ...(stale ?? said),
  };
}

/** The work now, its target, the fit that it gives, and what is in doubt about it. */
function factsOf({ job, unit }: WithJob, now: Diameter | null, aim: Aim, gives: Gives): readonly Figure[] {
  const { fit, depth, season } = job.setup;
  const toCut = (size: Length): string => `${cutFigure(size, unit, halfOf(job))} ${unit}`;
  const limits = isUnmeasured(job)
    ? { 'with threads': `${lengthFigure(depth.male, unit)} deep` }
    : { [fit === 'plain' ? 'fits from' : 'runs from']: band(aim.low, aim.high, unit, halfOf(job)) };
  return factsFrom({
    diameter: knownLength(now?.value, unit),
    'per side': now && toCut(mm((now.value - aim.target) / 2)),
    target: toCut(aim.target),
    ...limits,
    ...clearanceFact(job, gives, unit),
    ...shapeFacts(job, gives, unit),
    bore: lengthFigure(aim.bore, unit),
    'made for': season === undefined ? null : `${seasonText(season)} humidity`,
    learned: aim.shift === 0 ? null : `${signed(aim.shift, unit)}, ${trialsBehind(job)}`,
    ...doubtFacts(job, gives),
  });
}

/** What a spigot of this size gives, with what is in doubt about it; while it has none to stop at, what is wanted. A plain lid that is held has a hold. */
function clearanceFact(job: Job, gives: Gives, unit: LengthUnit): FactsByName {
  if (gives?.kind !== 'expected')
    return { wanted: lengthFigure(looseness(job.setup, job.setup.wanted).value, unit) };
  const { name, value } = looseness(job.setup, gives.clearance);
  return { [name]: withDoubt(value, halfOf(job), unit) };
}

/** What a spigot out of true does to the fit, and the bore with it: how loose the pair is where it is loosest. */
function shapeFacts(job: Job, gives: Gives, unit: LengthUnit): FactsByName {
  if (gives?.kind !== 'expected' || isSame(gives.loosest, gives.clearance)) return {};
  const along = spigotAlong(job.spigot);
  return {
    'at its loosest': `${lengthFigure(mm(gives.loosest - gives.clearance), unit)} more`,
    taper: along && taperFigure(taperOf(along), SPIGOT_ENDS, unit),
    fit: taperWords(boreAlong(job), along, unit),
  };
}

const trialsBehind = ({ setup }: Job): string =>
  `from ${counted(setup.learned?.reasons.length ?? 0, 'trial')}`;

function doubtFacts(job: Job, gives: Gives): FactsByName {
  const doubt = doubtFor(job);
  if (gives?.kind !== 'expected' || !doubt) return {};
  const isPlain = job.setup.fit === 'plain';
  const chances = isPlain ? null : chancesOf(gives.clearance, doubt, boundsOverRange(job));
  return { 'will run': chances && percent(chances.running), 'biggest unknown': doubt.largest.name };
}

type Place = Pick<Bar, 'filled' | 'target' | 'loosest' | 'targetText'>;

function barOf({ job, unit }: WithJob, now: Diameter | null, aim: Aim): Place {
  const beyond = (aim.target - aim.low) * 1.4;
  const place = (value: Length): number => placeOf(value - aim.target, NEAR, beyond);
  return {
    filled: now ? place(now.value) : null,
    target: place(aim.target),
    loosest: place(aim.low),
    targetText: `target ${cutFigure(aim.target, unit, halfOf(job))}`,
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
function otherSize(bench: WithJob, spigot: Spigot, place: 'across' | 'end'): StageScene {
  const { unit, readings, job } = bench;
  const { label, where, how } = OTHER_SIZES[place];
  const last = readings.at(-1);
  const held = howHeld(bench);
  const press = isReceiving(bench) ? 'Hold the jaws still and press' : 'Type the reading and press';
  return {
    big: bigRead(bench, last, label, last && correctReading(job, last.value, 'outside')),
    facts: [{ name: 'kept at its shoulder', value: lengthFigure(spigot.diameter, unit) }],
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
