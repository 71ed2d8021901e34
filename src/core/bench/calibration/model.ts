// Calibrating the feed at the bench: what was answered so far, what is asked next, and what a detent comes to.
import { rectangular } from '../../measure/uncertainty.ts';
import type { Pitch } from '../../quantity.ts';
import {
  type Calibration,
  type CalibrationRefusal,
  calibrateAsGiven,
  calibrateByPairInHand,
  calibrateByTravel,
  USUAL_WITHIN,
} from '../../thread/calibrate.ts';
import { TOUCH_OFF_BY_EYE } from '../../thread/chances.ts';
import type { VoidReason } from '../../thread/feed.ts';
import { type Length, mm } from '../../units.ts';
import { boreDoubt, spigotDoubt } from '../doubt.ts';
import type { Job } from '../job.ts';
import type { Part } from '../setup.ts';

export type Way = 'travel' | 'pair' | 'known';

/** Detents fed against a dial gauge or feeler, and the travel it showed, once or several times. */
export interface ByTravel {
  readonly way: 'travel';
  readonly gaugeWithin: Length | null;
  /** How many are fed each time; null until they were typed, or counted the first time. */
  readonly detents: number | null;
  /** A board counts them: where its count stood when the gauge was set to zero, null between two travels. */
  readonly mark: number | null;
  /** The detents are the board's count, not the turner's. */
  readonly counted: boolean;
  readonly travels: readonly Length[];
}

/** A pair that runs: all but the detents is the job's, and those too where they were counted. */
export interface ByPair {
  readonly way: 'pair';
  readonly detents: { readonly [part in Part]: number | null };
  readonly play: Length | null;
  readonly playWithin: Length | null;
  readonly touchOffWithin: Length | null;
}

/** The turner knows it: the screw's pitch over its detents, or what the maker says. */
export interface ByKnown {
  readonly way: 'known';
  readonly perDetent: Length | null;
}

export type Answers = ByTravel | ByPair | ByKnown;

export interface Calibrating {
  readonly step: 'way' | 'asking' | 'naming';
  readonly answers: Answers;
  /** What the feed is to be called; the first typed character replaces what is offered. */
  readonly name: string;
  readonly untouched: boolean;
}

/** What is asked now. `mark`: set the gauge to zero and say so; `nothing`: all is answered. */
export type Question =
  | 'gauge within'
  | 'detents'
  | 'mark'
  | 'travel'
  | 'bore detents'
  | 'spigot detents'
  | 'play'
  | 'play within'
  | 'touch-off within'
  | 'per detent'
  | 'nothing';

/** Offered where the turner says nothing else; our own figures, each shown before it is used. */
export const OFFERED = {
  'gauge within': USUAL_WITHIN.gauge,
  'play within': USUAL_WITHIN.play,
  'touch-off within': TOUCH_OFF_BY_EYE,
} as const;
export type OfferedQuestion = keyof typeof OFFERED;
export const isOffered = (question: Question): question is OfferedQuestion => question in OFFERED;

export const offeredFor = (question: OfferedQuestion, job: Job | null): Length =>
  (question === 'touch-off within' ? job?.setup.feed?.touchOff : undefined) ?? OFFERED[question];

export const emptyTravelAnswers: ByTravel = {
  way: 'travel',
  gaugeWithin: null,
  detents: null,
  mark: null,
  counted: false,
  travels: [],
};

export const emptyKnownAnswers: ByKnown = { way: 'known', perDetent: null };

export const emptyPairAnswers = (job: Job | null): ByPair => ({
  way: 'pair',
  detents: {
    female: job?.threads.female.cut?.detents ?? null,
    male: job?.threads.male.cut?.detents ?? null,
  },
  play: null,
  playWithin: null,
  touchOffWithin: null,
});

export function questionIn(answers: Answers): Question {
  if (answers.way === 'known') return answers.perDetent === null ? 'per detent' : 'nothing';
  return answers.way === 'travel' ? travelQuestion(answers) : pairQuestion(answers);
}

function travelQuestion({ gaugeWithin, detents, mark, counted }: ByTravel): Question {
  if (gaugeWithin === null) return 'gauge within';
  if (mark !== null) return 'travel';
  if (detents === null) return 'detents';
  return counted ? 'mark' : 'travel';
}

function pairQuestion({ detents, play, playWithin, touchOffWithin }: ByPair): Question {
  if (detents.female === null) return 'bore detents';
  if (detents.male === null) return 'spigot detents';
  if (play === null) return 'play';
  if (playWithin === null) return 'play within';
  return touchOffWithin === null ? 'touch-off within' : 'nothing';
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
  | { readonly kind: 'nothing-asked'; readonly question: 'mark' | 'nothing' }
  /** The board counted none since the gauge was set, or backwards. */
  | { readonly kind: 'not-fed'; readonly detents: number }
  | { readonly kind: 'other-count'; readonly detents: number; readonly first: number }
  | { readonly kind: 'count-broken'; readonly why: VoidReason }
  | { readonly kind: 'not-answered' }
  /** A key that leads elsewhere at a stage. */
  | { readonly kind: 'other-key' }
  | { readonly kind: 'no-name' }
  | { readonly kind: 'no-calibration'; readonly why: string };

/** What the answers come to; null while one is missing. */
export function calibrationOf(answers: Answers, job: Job | null): Calibration | CalibrationRefusal | null {
  if (answers.way === 'known') return answers.perDetent === null ? null : calibrateAsGiven(answers.perDetent);
  return answers.way === 'travel' ? fromTravels(answers) : fromPair(answers, job);
}

function fromTravels({ gaugeWithin, detents, travels }: ByTravel): ReturnType<typeof calibrationOf> {
  if (gaugeWithin === null || detents === null || travels.length === 0) return null;
  return calibrateByTravel(detents, travels, mm(rectangular(gaugeWithin)));
}

function fromPair(answers: ByPair, job: Job | null): ReturnType<typeof calibrationOf> {
  const { play, playWithin, touchOffWithin } = answers;
  const { female, male } = answers.detents;
  if (female === null || male === null || play === null || playWithin === null) return null;
  if (touchOffWithin === null || !job?.bore || !job.spigot || missingFor(job) !== null) return null;
  const { pitch, starts, cutter, caliper } = job.setup;
  const [bore, spigot] = [boreDoubt(job), spigotDoubt(job)];
  return calibrateByPairInHand({
    pitch,
    starts,
    cutter,
    caliper,
    bore: job.bore.diameter,
    spigot: job.spigot.diameter,
    detents: { female, male },
    play,
    playWithin,
    touchOffWithin,
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
export function provenFrom(answers: Answers, job: Job | null): Pick<FeedFound, 'proven'> {
  if (answers.way !== 'pair' || !job) return {};
  const { female, male } = answers.detents;
  return female !== null && female === male ? { proven: { pitch: job.setup.pitch, detents: female } } : {};
}
