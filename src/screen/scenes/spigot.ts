// Spigot: what remains to the target, which side of it the work stands on, and what fit that gives.
import { corrected } from '../../core/bench/corrected.ts';
import type { Job } from '../../core/bench/job.ts';
import { settledOf } from '../../core/bench/settled.ts';
import type { Bench } from '../../core/bench/state.ts';
import {
  type Aim,
  type Expected,
  expectedOf,
  NEAR,
  type NoAim,
  type Zone,
  zoneOf,
} from '../../core/bench/target.ts';
import { chancesOf } from '../../core/thread/chances.ts';
import { type Length, type LengthUnit, mm } from '../../core/units.ts';
import { cautionAt } from '../cautions.ts';
import { figure, lengthFigure, percent, withDoubt } from '../figures.ts';
import { stageKeys } from '../keywords.ts';
import { type Bar, placeOf } from '../panels/bar/bar.ts';
import type { Style } from '../picture.ts';
import { type Big, type Fact, MARKS, type Scene, type Standing } from '../scene.ts';
import { safe } from '../text.ts';
import { FIT_WORDS } from '../words.ts';
import { aimFor, doubtFor } from './known.ts';
import { bigLength, bigNothing, bigReading, liveStyle, staleness, standing } from './parts.ts';

interface Reading {
  readonly value: Length;
  readonly step: Length;
}

export function spigotScene(bench: Bench, job: Job): Scene {
  const aim = aimFor(job);
  return aim.kind === 'aim' ? aimed(bench, job, aim) : unaimed(bench, job, aim);
}

function unaimed(bench: Bench, job: Job, aim: NoAim): Scene {
  const missing = aim.kind === 'missing';
  const why = aim.kind === 'no-fit' ? safe(aim.why) : 'the bore decides the spigot';
  return {
    ...frame,
    big: bigNothing(bench.unit, 'target spigot'),
    standing: standing(
      missing ? MARKS.open : MARKS.cross,
      missing ? 'NO BORE YET' : 'NO FIT',
      why,
      missing ? 'quiet' : 'bad',
    ),
    facts: job.bore ? [{ name: 'bore', value: lengthFigure(job.bore.diameter, bench.unit) }] : [],
    panel: null,
    next: missing
      ? 'Type the bore and Enter, or b back to bore size.'
      : 'b back to measure the bore again, or w for a job with another pitch, cutter or depth.',
  };
}

const frame = {
  title: 'spigot',
  caution: cautionAt.spigot,
  keys: stageKeys('take'),
  typing: null,
} as const;

function aimed(bench: Bench, job: Job, aim: Aim): Scene {
  const now = readingNow(bench, job);
  const reached = now && zoneOf(aim, now.value, now.step);
  const moving = reached !== null && STOPPING.has(reached) && !settledOf(bench.heard);
  const zone = moving ? 'near' : reached;
  const expected = now && zone && zone !== 'far' ? expectedOf(job, now.value) : null;
  const stale = now ? staleness(bench, bench.heard.at(-1)) : null;
  return {
    ...frame,
    big:
      now && zone
        ? remaining(bench, now, aim, zone)
        : bigLength(aim.target, bench.unit, 'target spigot, on the diameter', 'value'),
    standing:
      stale ?? (moving ? MOVING : zone ? zoneStanding(zone, expected, bench.unit) : waiting(bench, job, aim)),
    facts: [
      ...liveFacts(now, aim, bench.unit),
      ...aimFacts(job, aim, expected, bench.unit),
      ...fitFacts(job, expected),
    ],
    panel: { kind: 'bar', bar: barOf(now, aim, zone, bench.unit) },
    next: moving ? 'Hold the jaws still on the spigot.' : nextStep(bench, job, zone, expected),
  };
}

/** The newest diameter: read or typed since the last take, as corrected. */
function readingNow(bench: Bench, job: Job): Reading | null {
  const last = bench.heard.at(-1);
  return last ? { value: corrected(job, last.value, 'outside'), step: last.step } : null;
}

/** Zones that tell the turner to stop cutting: said of a diameter that was held still, never of one reading alone. */
const STOPPING: ReadonlySet<Zone> = new Set(['at', 'under', 'past']);
const MOVING = standing(MARKS.half, 'MOVING', 'at the target or past it: hold the jaws still', 'near');

const ZONE_STYLES: { readonly [zone in Zone]: Style } = {
  far: 'value',
  near: 'near',
  at: 'at',
  under: 'past',
  past: 'past',
};

function remaining(bench: Bench, now: Reading, aim: Aim, zone: Zone): Big {
  const over = mm(now.value - aim.target);
  const label = over < 0 ? 'under the target, on the diameter' : 'still to come off the diameter';
  return bigReading(
    over,
    now.step,
    bench.unit,
    label,
    liveStyle(bench, bench.heard.at(-1), ZONE_STYLES[zone]),
  );
}

function waiting(bench: Bench, job: Job, aim: Aim): Standing {
  if (job.spigot) {
    const { diameter, fit, clearance } = job.spigot;
    const about = `${lengthFigure(diameter, bench.unit)}: ${fit}, clearance ${lengthFigure(clearance, bench.unit)}`;
    return standing(MARKS.full, 'TAKEN', about, fit === 'running' ? 'good' : 'past');
  }
  return standing(
    MARKS.open,
    'TURN TO THIS',
    aim.shift === 0
      ? 'nothing measured yet'
      : `earlier trials moved it by ${signed(mm(aim.shift), bench.unit)} ${bench.unit}: ? says why`,
    'quiet',
  );
}

function zoneStanding(zone: Zone, expected: Expected | NoAim | null, unit: LengthUnit): Standing {
  const fit = fitAbout(expected, unit);
  switch (zone) {
    case 'far':
      return standing(MARKS.open, 'TURN DOWN', 'more than a light cut to go', 'plain');
    case 'near':
      return standing(MARKS.half, 'NEAR', 'light cuts now, and measure after each', 'near');
    case 'at':
      return standing(MARKS.full, 'AT SIZE', `stop here; ${fit}`, 'at');
    case 'under':
      return standing(MARKS.under, 'UNDER', `under the target, but ${fit}`, 'past');
    case 'past':
      return standing(MARKS.cross, 'PAST', `past what runs: ${fit}`, 'past');
    default:
      return zone satisfies never;
  }
}

function fitAbout(expected: Expected | NoAim | null, unit: LengthUnit): string {
  if (expected?.kind !== 'expected')
    return expected?.kind === 'no-fit' ? safe(expected.why) : 'the fit is not known';
  return `${expected.word}, clearance ${lengthFigure(expected.clearance, unit)}`;
}

const liveFacts = (now: Reading | null, aim: Aim, unit: LengthUnit): readonly Fact[] =>
  now
    ? [
        { name: 'diameter', value: lengthFigure(now.value, unit) },
        { name: 'per side', value: lengthFigure(mm((now.value - aim.target) / 2), unit) },
      ]
    : [];

function aimFacts(job: Job, aim: Aim, expected: Expected | NoAim | null, unit: LengthUnit): readonly Fact[] {
  return [
    { name: 'target', value: lengthFigure(aim.target, unit) },
    { name: 'runs from', value: `${figure(aim.low, unit)} to ${figure(aim.high, unit)}` },
    clearanceFact(job, expected, unit),
    { name: 'bore', value: lengthFigure(aim.bore, unit) },
    ...(aim.shift === 0
      ? []
      : [{ name: 'learned', value: `${signed(aim.shift, unit)}, ${trialsBehind(job)}` }]),
  ];
}

const signed = (value: Length, unit: LengthUnit): string => `${value > 0 ? '+' : ''}${figure(value, unit)}`;

/** What is wanted, or what this diameter would give, with what is in doubt about it; a plain lid that is held has a hold. */
function clearanceFact(job: Job, expected: Expected | NoAim | null, unit: LengthUnit): Fact {
  const clearance = expected?.kind === 'expected' ? expected.clearance : job.setup.wanted;
  const holds = job.setup.fit === 'plain' && clearance < 0;
  const value = holds ? mm(-clearance) : clearance;
  const doubt = doubtFor(job);
  return {
    name: holds ? 'hold' : 'clearance',
    value: doubt ? withDoubt(value, mm(doubt.expanded95), unit) : lengthFigure(value, unit),
  };
}

const trialsBehind = (job: Job): string => {
  const count = job.setup.learned?.reasons.length ?? 0;
  return count === 1 ? 'from 1 trial' : `from ${count} trials`;
};

function fitFacts(job: Job, expected: Expected | NoAim | null): readonly Fact[] {
  const doubt = doubtFor(job);
  if (expected?.kind !== 'expected' || !doubt) return [];
  const chances = chancesOf(expected.clearance, doubt.standard, job.setup.bounds);
  return [
    { name: 'will run', value: percent(chances.running) },
    { name: 'most doubt', value: doubt.largest.name },
  ];
}

function barOf(now: Reading | null, aim: Aim, zone: Zone | null, unit: LengthUnit): Bar {
  const beyond = (aim.target - aim.low) * 1.4;
  const place = (value: Length): number => placeOf(value - aim.target, NEAR, beyond);
  return {
    zone,
    filled: now ? place(now.value) : null,
    target: place(aim.target),
    loosest: place(aim.low),
    targetText: `target ${figure(aim.target, unit)}`,
  };
}

function nextStep(bench: Bench, job: Job, zone: Zone | null, expected: Expected | NoAim | null): string {
  const after = job.setup.fit === 'plain' ? 'the trial' : 'its thread';
  switch (zone) {
    case null:
      if (job.spigot) return `n goes on to ${after}. Measure again to replace what was taken.`;
      return bench.line.open
        ? 'Turn the spigot oversize, stop the lathe, close the jaws on it.'
        : 'Turn, stop, measure; type the diameter and Enter.';
    case 'far':
      return 'Turn it down, stop the lathe, and measure again.';
    case 'near':
      return 'A light cut, stop, measure again; half of what remains comes off each side.';
    case 'at':
      return 'Hold the jaws still; Enter takes this spigot.';
    case 'under':
      return 'It still runs: Enter takes it. Take nothing more off.';
    case 'past':
      return pastStep(expected);
    default:
      return zone satisfies never;
  }
}

function pastStep(expected: Expected | NoAim | null): string {
  const fit = expected?.kind === 'expected' ? `It ${FIT_WORDS[expected.word]}` : 'No fit';
  return `${fit}: part it off and turn a new spigot, or Enter takes it as it is.`;
}
