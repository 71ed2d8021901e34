// Calibrating the feed at the bench: the result of its answers, and why a step was refused.
import { rectangular } from '../../measure/uncertainty.ts';
import type { Pitch } from '../../quantity.ts';
import {
  type Calibration,
  type CalibrationRefusal,
  calibrateAsGiven,
  calibrateByPair,
  calibrateByTravel,
} from '../../thread/calibrate.ts';
import type { VoidReason } from '../../thread/depth.ts';
import { type Length, mm } from '../../units.ts';
import { boreDoubt, spigotDoubt } from '../doubt.ts';
import type { Job } from '../job.ts';
import { type Answers, type Asked, type Asking, answerTo, travelsIn } from './questions.ts';

export interface Calibrating {
  readonly step: 'way' | 'asking' | 'naming';
  readonly answers: Answers;
  /** The feed's name; the first typed character replaces the one offered. */
  readonly name: string;
  readonly untouched: boolean;
}

/** What the job on the bench lacks to be a pair that calibrates; null where it has all. */
export type PairLack = 'job' | 'thread' | 'bore' | 'spigot' | 'trial';
export function missingFor(job: Job | null): PairLack | null {
  if (!job) return 'job';
  if (job.setup.fit === 'plain') return 'thread';
  if (!job.bore) return 'bore';
  if (!job.spigot) return 'spigot';
  const last = job.trials.at(-1);
  const runs = last?.verdict === 'running' || last?.verdict === 'loose';
  return runs && !last.reworked ? null : 'trial';
}

/** Why a step of the calibration was not done; the screen says each in a sentence. */
export type CalibrationTrouble =
  | { readonly kind: 'no-pair'; readonly lack: PairLack }
  /** Enter was to set the board's count, and no board counts. */
  | { readonly kind: 'no-count' }
  | { readonly kind: 'nothing-asked'; readonly question: Asked }
  /** The board counted none since the gauge was set, or backwards. */
  | { readonly kind: 'not-fed'; readonly detents: number }
  | { readonly kind: 'other-count'; readonly detents: number; readonly first: number }
  | { readonly kind: 'count-broken'; readonly why: VoidReason }
  | { readonly kind: 'not-answered' }
  /** A key that leads elsewhere at a stage. */
  | { readonly kind: 'other-key' }
  | { readonly kind: 'no-name' }
  | { readonly kind: 'no-calibration'; readonly why: string };

type Found = Calibration | CalibrationRefusal | null;

/** The calibration that the answers give; null while one is missing. */
export function calibrationOf(on: Asking): Found {
  if (on.answers.way === 'pair') return fromPair(on);
  if (on.answers.way === 'travel') return fromTravels(on);
  const perDetent = answerTo(on, 'per detent');
  return perDetent === undefined ? null : calibrateAsGiven(mm(perDetent));
}

function fromTravels(on: Asking): Found {
  const [gaugeWithin, detents] = [answerTo(on, 'gauge within'), answerTo(on, 'detents')];
  const travels = travelsIn(on.answers);
  if (gaugeWithin === undefined || detents === undefined || travels.length === 0) return null;
  return calibrateByTravel(detents, travels, mm(rectangular(gaugeWithin)));
}

function fromPair(on: Asking): Found {
  const { job } = on;
  const [female, male] = [answerTo(on, 'bore detents'), answerTo(on, 'spigot detents')];
  const [play, playWithin] = [answerTo(on, 'play'), answerTo(on, 'play within')];
  const touchOffWithin = answerTo(on, 'touch-off within');
  if (female === undefined || male === undefined || play === undefined || playWithin === undefined)
    return null;
  if (touchOffWithin === undefined || !job?.bore || !job.spigot || missingFor(job) !== null) return null;
  const { pitch, starts, cutter, caliper } = job.setup;
  const [bore, spigot] = [boreDoubt(job), spigotDoubt(job)];
  return calibrateByPair({
    pitch,
    starts,
    cutter,
    caliper,
    bore: job.bore.diameter,
    spigot: job.spigot.diameter,
    detents: { female, male },
    play: mm(play),
    playWithin: mm(playWithin),
    touchOffWithin: mm(touchOffWithin),
    ...(bore ? { standard: { bore: mm(bore.standard), spigot: mm(spigot.standard) } } : {}),
  });
}

/** A feed as calibrated, to be kept in the kit under its name. */
export interface FeedFound {
  readonly name: string;
  readonly perDetent: Length;
  readonly standard: Length;
  /** Degrees of freedom of `standard`. */
  readonly freedom: number;
  /** Detents that a pair proved at its pitch. */
  readonly proven?: { readonly pitch: Pitch; readonly detents: number };
}

/** A pair proves its detents where both parts were cut by as many. */
export function provenFrom(on: Asking): Pick<FeedFound, 'proven'> {
  const { answers, job } = on;
  const detents = answerTo(on, 'bore detents');
  const proves = answers.way === 'pair' && job && detents === answerTo(on, 'spigot detents');
  return proves && detents !== undefined ? { proven: { pitch: job.setup.pitch, detents } } : {};
}
