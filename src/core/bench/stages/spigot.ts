// Spigot: the live diameter on its way down to the target, and whether it is near, at, under or past it.

import { CLOSED_AT_MOST } from '../../measure/corrections.ts';
import { type Length, mm } from '../../units.ts';
import type { KeptReading } from '../entry.ts';
import type { Job, Spigot } from '../job.ts';
import { asksAcross, type SpigotSize } from '../out-of-true.ts';
import { andThen, ask, badNumber, keep, type Outcome, refuse, sounding, unchanged } from '../outcome.ts';
import type { Bench, Cue, KeepQuestion, Place } from '../state.ts';
import { type Aim, aimOf, expectedAsPlanned, type Zone, zoneOf } from '../target.ts';
import { isUnmeasured } from '../threads.ts';
import {
  correctReading,
  heldStill,
  oddBore,
  oddShape,
  oddSpigot,
  rememberReading,
  steadyOf,
  withTyped,
} from './readings.ts';
import { nextPlace, resetLive, type StageRules, type WithJob } from './rules.ts';

/** A diameter that counts as the spigot's. */
export interface Diameter {
  readonly value: Length;
  readonly step: Length;
}

/** The spigot's zone by the newest reading. */
interface SpigotStanding {
  /** Null while what the jaws show is not the spigot: nothing read, closed jaws, or still at the bore. */
  readonly now: Diameter | null;
  readonly zone: Zone | null;
  /** At the target or past it, but not held still: one reading alone never says stop. */
  readonly moving: boolean;
  /** A spigot that runs was kept, and nothing was cut from it since. */
  readonly isKept: boolean;
}

/** At the target, or in the band about it: a spigot turned as aimed raises no question, even if its fit isn't running. */
export const isOnSize = (aim: Aim, diameter: Length, step: Length): boolean =>
  zoneOf(aim, diameter, step) === 'at' || (diameter >= aim.low && diameter <= aim.high);

const STOPPING: ReadonlySet<Zone> = new Set(['at', 'under', 'past']);
/** Steps of the caliper by which a spigot must measure smaller than it was kept, to have been cut again; our own choice. */
export const CUT_AGAIN_STEPS = 2;

/** A spigot starts above its target and its bore: until such a size was seen, a smaller one may be the bore's, left in the jaws. */
const startsAbove = (aim: Aim, { value, step }: Diameter): boolean =>
  !STOPPING.has(zoneOf({ ...aim, target: mm(Math.max(aim.target, aim.bore)) }, value, step));

export function spigotStanding(bench: WithJob, aim: Aim): SpigotStanding {
  const { job, readings, aboveSeen } = bench;
  const now = newest(bench);
  const zone = now && zoneOf(aim, now.value, now.step);
  if (!now || !zone || now.value <= CLOSED_AT_MOST || !(aboveSeen || startsAbove(aim, now)))
    return { now: null, zone: null, moving: false, isKept: isStillKept(job, null) };
  const moving = STOPPING.has(zone) && !steadyOf(readings);
  return { now, zone: moving ? 'near' : zone, moving, isKept: isStillKept(job, now) };
}

function newest({ job, readings }: WithJob): Diameter | null {
  const last = readings.at(-1);
  return last ? { value: correctReading(job, last.value, 'outside'), step: last.step } : null;
}

/** A jaw leaned or opened reads larger, never smaller. */
const isStillKept = ({ spigot }: Job, now: Diameter | null): boolean =>
  spigot?.fit === 'running' && (now === null || now.value > spigot.diameter - CUT_AGAIN_STEPS * now.step);

const CUES: { readonly [zone in Zone]: Cue | null } = {
  far: null,
  near: 'near',
  at: 'at',
  under: 'past',
  past: 'past',
};

/** The last zone that was held, so that a cue sounds once on entering a zone and not at every reading. */
function onReading(bench: WithJob, reading: KeptReading): Outcome {
  const next = rememberReading(bench, reading);
  if (bench.place !== 'first') return next;
  const aim = aimOf(bench.job);
  if (aim.kind !== 'aim' || !steadyOf(next.bench.readings)) return next;
  const seen = { ...next.bench, job: bench.job };
  const { zone } = spigotStanding(seen, aim);
  if (zone === null || (zone === bench.zone && bench.aboveSeen)) return next;
  const moved: Outcome = { ...next, bench: { ...next.bench, zone, aboveSeen: true } };
  const cue = zone === bench.zone ? null : CUES[zone];
  return cue ? andThen(moved, (at) => sounding(at, cue)) : moved;
}

function keepSpigot(bench: WithJob): Outcome {
  const { job } = bench;
  if (!job.bore) return refuse(bench, { kind: 'missing', what: 'bore' });
  const held = heldStill(bench);
  if ('kind' in held) return refuse(bench, held);
  const diameter = correctReading(job, held.value, 'outside');
  if (diameter <= CLOSED_AT_MOST) return refuse(bench, { kind: 'closed-jaws' });
  const { place } = bench;
  if (place !== 'first' && job.spigot) {
    const yes = keeping(bench, { ...job.spigot, [place]: diameter });
    return ask(bench, oddShape(diameter, job.spigot.diameter), yes);
  }
  const aim = aimOf(job);
  if (aim.kind !== 'aim') return refuse(bench, aim);
  const expected = expectedAsPlanned(job, { diameter });
  if (expected.kind !== 'expected') return refuse(bench, expected);
  const question: KeepQuestion | null =
    spigotStanding(bench, aim).now === null
      ? { kind: 'is-spigot', found: diameter, target: aim.target }
      : isOnSize(aim, diameter, job.setup.caliper.step)
        ? null
        : {
            kind: 'off-size',
            over: mm(diameter - aim.target),
            word: isUnmeasured(job) ? null : expected.word,
          };
  return ask(bench, question, keeping(bench, { diameter, how: held.how }));
}

/** Keeps a spigot of these sizes with the fit that they give, and the readings it was measured by. */
const keeping =
  ({ job, readings }: WithJob, sizes: SpigotSize & Pick<Spigot, 'how'>) =>
  (at: Bench): Outcome => {
    const expected = expectedAsPlanned(job, sizes);
    if (expected.kind !== 'expected') return refuse(at, expected);
    const { word: fit, clearance } = expected;
    const settled = { ...at, readings: [], aboveSeen: true, place: 'first' } as const;
    const asPlanned = isUnmeasured(job) ? { asPlanned: true } : {};
    return keep(settled, { ...sizes, kind: 'spigot-taken', fit, clearance, ...asPlanned }, readings);
  };

/** Without a bore the typed number is the bore that is missing; with one it is a reading. */
const typed = (bench: WithJob, text: string): Outcome =>
  withTyped(bench, text, (reading) => {
    const { value } = reading;
    if (value <= 0) return badNumber(bench, text, 'a diameter above zero');
    if (!bench.job.bore) return typedBoreHere(bench, reading);
    const aim = aimOf(bench.job);
    const target = aim.kind === 'aim' ? aim.target : null;
    const accept = (): Outcome => onReading({ ...bench, typed: '', notice: null, aboveSeen: true }, reading);
    return ask(bench, oddSpigot(value, target), accept);
  });

function typedBoreHere(bench: WithJob, reading: KeptReading): Outcome {
  const diameter = correctReading(bench.job, reading.value, 'bore');
  const alone = { standard: null, degreesOfFreedom: null, tops: 1, agreeing: 1, spread: null };
  const expected = bench.job.setup.plannedBore ?? null;
  const accept = (at: Bench): Outcome =>
    keep(at, { kind: 'bore-taken', diameter, ...alone, how: 'typed' }, [reading]);
  return ask(bench, oddBore(reading.value, expected), accept);
}

const entered = (bench: WithJob): WithJob => ({
  ...resetLive(bench),
  zone: null,
  aboveSeen: bench.job.spigot !== null,
});

/** What again measures: once a spigot is kept, its other sizes, the one that matters more first. */
export function nextSpigotSize(bench: WithJob): Place {
  const { job } = bench;
  if (!job.spigot) return 'first';
  return nextPlace(
    bench,
    false,
    asksAcross(job, 'male') ? ['first', 'across', 'end'] : ['first', 'end', 'across'],
  );
}

export const spigotRules: StageRules = {
  entered,
  onReading,
  keep: keepSpigot,
  again: (bench) => unchanged({ ...entered(bench), place: nextSpigotSize(bench) }),
  typed,
};
