// The figures of a spigot: where it stands, what it is to be, what fit that gives, and the bar between them.
import type { Job } from '../../core/bench/job.ts';
import { seasonText } from '../../core/bench/parse-text.ts';
import type { Diameter } from '../../core/bench/stages/spigot.ts';
import {
  type Aim,
  boundsOverRange,
  type Expected,
  NEAR,
  type NoAim,
  type Zone,
} from '../../core/bench/target.ts';
import { bandFigure, figure, lengthFigure, percent, withDoubt } from '../../core/figures.ts';
import { chancesOf } from '../../core/thread/chances.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { type Bar, placeOf } from '../panels/bar.ts';
import type { Figure } from '../scene.ts';
import { looseness } from '../words.ts';
import { doubtFor } from './memo.ts';

export const liveFacts = (now: Diameter | null, aim: Aim, unit: LengthUnit): readonly Figure[] =>
  now
    ? [
        { name: 'diameter', value: lengthFigure(now.value, unit) },
        { name: 'per side', value: lengthFigure(mm((now.value - aim.target) / 2), unit) },
      ]
    : [];

export function aimFacts(
  job: Job,
  aim: Aim,
  expected: Expected | NoAim | null,
  unit: LengthUnit,
): readonly Figure[] {
  return [
    { name: 'target', value: lengthFigure(aim.target, unit) },
    {
      name: job.setup.fit === 'plain' ? 'fits from' : 'runs from',
      value: bandFigure(aim.low, aim.high, unit, mm(doubtFor(job)?.expanded95 ?? 0)),
    },
    clearanceFact(job, expected, unit),
    { name: 'bore', value: lengthFigure(aim.bore, unit) },
    ...(job.setup.season === undefined
      ? []
      : [{ name: 'made for', value: `${seasonText(job.setup.season)} humidity` }]),
    ...(aim.shift === 0
      ? []
      : [{ name: 'learned', value: `${signed(aim.shift, unit)}, ${trialsBehind(job)}` }]),
  ];
}

export const signed = (value: Length, unit: LengthUnit): string =>
  `${value > 0 ? '+' : ''}${figure(value, unit)}`;

/** What this diameter gives, with what is in doubt about it; before there is one, what is wanted. A plain lid that is held has a hold. */
function clearanceFact(job: Job, expected: Expected | NoAim | null, unit: LengthUnit): Figure {
  const known = expected?.kind === 'expected' ? expected.clearance : null;
  const { name, value } = looseness(job.setup, known ?? job.setup.wanted);
  const doubt = doubtFor(job);
  return {
    name: known === null ? 'wanted' : name,
    value: doubt && known !== null ? withDoubt(value, mm(doubt.expanded95), unit) : lengthFigure(value, unit),
  };
}

const trialsBehind = (job: Job): string => {
  const count = job.setup.learned?.reasons.length ?? 0;
  return count === 1 ? 'from 1 trial' : `from ${count} trials`;
};

export function fitFacts(job: Job, expected: Expected | NoAim | null): readonly Figure[] {
  const doubt = doubtFor(job);
  if (expected?.kind !== 'expected' || !doubt) return [];
  const chances =
    job.setup.fit === 'plain' ? null : chancesOf(expected.clearance, doubt, boundsOverRange(job));
  return [
    ...(chances ? [{ name: 'will run', value: percent(chances.running) }] : []),
    { name: 'biggest unknown', value: doubt.largest.name },
  ];
}

export function barOf(
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
    targetText: `target ${figure(aim.target, unit)}`,
  };
}
