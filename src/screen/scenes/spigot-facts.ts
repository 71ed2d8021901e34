// The figures of a spigot: its size, its target, the fit that it gives, and the bar between them.
import type { Job } from '../../core/bench/job.ts';
import { boreAlong, SPIGOT_ENDS, spigotAlong } from '../../core/bench/out-of-true.ts';
import type { Diameter } from '../../core/bench/stages/spigot.ts';
import {
  type Aim,
  boundsOverRange,
  type Expected,
  NEAR,
  type NotExpected,
  type Zone,
} from '../../core/bench/target.ts';
import { isUnmeasured } from '../../core/bench/threads.ts';
import { seasonText } from '../../core/bench/typed-quantity.ts';
import {
  band,
  counted,
  cutFigure,
  figure,
  lengthFigure,
  percent,
  taperFigure,
  withDoubt,
} from '../../core/figures.ts';
import { chancesOf } from '../../core/thread/chances.ts';
import { isSame, taperOf } from '../../core/thread/taper-and-oval.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { type Bar, placeOf } from '../panels/bar.ts';
import type { Figure } from '../scene.ts';
import { looseness } from '../words.ts';
import { doubtFor, type FactsByName, factsFrom, knownLength, taperWords } from './scene-parts.ts';

/** Half-width of the 95 % interval of what this job's spigot gives, and so of its target. */
export const halfOf = (job: Job): Length => mm(doubtFor(job)?.expanded95 ?? 0);

/** A size to be cut to, as fine as this job knows it. */
export const sizeToCut = (job: Job, size: Length, unit: LengthUnit): string =>
  `${cutFigure(size, unit, halfOf(job))} ${unit}`;

export const liveFacts = (job: Job, now: Diameter | null, aim: Aim, unit: LengthUnit): readonly Figure[] =>
  factsFrom({
    diameter: knownLength(now?.value, unit),
    'per side': now && sizeToCut(job, mm((now.value - aim.target) / 2), unit),
  });

export function aimFacts(
  job: Job,
  aim: Aim,
  expected: Expected | NotExpected | null,
  unit: LengthUnit,
): readonly Figure[] {
  const { fit, depth, season } = job.setup;
  const limits = isUnmeasured(job)
    ? { 'with threads': `${lengthFigure(depth.male, unit)} deep` }
    : { [fit === 'plain' ? 'fits from' : 'runs from']: band(aim.low, aim.high, unit, halfOf(job)) };
  return factsFrom({
    target: sizeToCut(job, aim.target, unit),
    ...limits,
    ...clearanceFact(job, expected, unit),
    ...shapeFacts(job, expected, unit),
    bore: lengthFigure(aim.bore, unit),
    'made for': season === undefined ? null : `${seasonText(season)} humidity`,
    learned: aim.shift === 0 ? null : `${signed(aim.shift, unit)}, ${trialsBehind(job)}`,
  });
}

export const signed = (value: Length, unit: LengthUnit): string =>
  `${value > 0 ? '+' : ''}${figure(value, unit)}`;

/** What a spigot of this size gives, with what is in doubt about it; while it has none to stop at, what is wanted. A plain lid that is held has a hold. */
function clearanceFact(job: Job, expected: Expected | NotExpected | null, unit: LengthUnit): FactsByName {
  if (expected?.kind !== 'expected')
    return { wanted: lengthFigure(looseness(job.setup, job.setup.wanted).value, unit) };
  const { name, value } = looseness(job.setup, expected.clearance);
  return { [name]: withDoubt(value, halfOf(job), unit) };
}

/** What a spigot out of true does to the fit, and the bore with it: how loose the pair is where it is loosest. */
function shapeFacts(job: Job, expected: Expected | NotExpected | null, unit: LengthUnit): FactsByName {
  if (expected?.kind !== 'expected' || isSame(expected.loosest, expected.clearance)) return {};
  const along = spigotAlong(job.spigot);
  return {
    'at its loosest': `${lengthFigure(mm(expected.loosest - expected.clearance), unit)} more`,
    taper: along && taperFigure(taperOf(along), SPIGOT_ENDS, unit),
    fit: taperWords(boreAlong(job), along, unit),
  };
}

const trialsBehind = ({ setup }: Job): string =>
  `from ${counted(setup.learned?.reasons.length ?? 0, 'trial')}`;

export function fitFacts(job: Job, expected: Expected | NotExpected | null): readonly Figure[] {
  const doubt = doubtFor(job);
  if (expected?.kind !== 'expected' || !doubt) return [];
  const chances =
    job.setup.fit === 'plain' ? null : chancesOf(expected.clearance, doubt, boundsOverRange(job));
  return factsFrom({
    'will run': chances && percent(chances.running),
    'biggest unknown': doubt.largest.name,
  });
}

export function barOf(
  job: Job,
  now: Diameter | null,
  aim: Aim,
  zone: Zone | null,
  unit: LengthUnit,
  stale: boolean,
): Bar {
  const beyond = (aim.target - aim.low) * 1.4;
  const place = (value: Length): number => placeOf(value - aim.target, NEAR, beyond);
  return {
    zone,
    stale,
    filled: now ? place(now.value) : null,
    target: place(aim.target),
    loosest: place(aim.low),
    targetText: `target ${cutFigure(aim.target, unit, halfOf(job))}`,
  };
}
