// How a job's setup stands in JSON: lengths under keys ending in Mm, angles in Deg.
import type {
  CaliperFacts,
  Cutter,
  FeedFacts,
  Lessons,
  Measuring,
  SeasonWanted,
  Setup,
} from '../../core/bench/setup.ts';
import type { Pitch } from '../../core/quantity.ts';
import type { FitBounds } from '../../core/thread/fit.ts';
import type { Tip } from '../../core/thread/form.ts';
import {
  angle,
  count,
  countFrom,
  flag,
  humidity,
  kinds,
  length,
  list,
  optional,
  positiveLength,
  positiveNumber,
  record,
  type Shape,
  string,
  unsignedLength,
  word,
} from './shape.ts';

type Given = Pitch['given'];
type TipOf<K extends Tip['kind']> = Extract<Tip, { kind: K }>;

const given = kinds<Given>({
  tpi: record<Extract<Given, { kind: 'tpi' }>>({ kind: word('tpi'), threads: positiveNumber }),
  metric: record<Extract<Given, { kind: 'metric' }>>({ kind: word('metric') }),
});

export const pitchShape: Shape<Pitch> = record<Pitch>({ length: positiveLength, given });

const tip = kinds<Tip>({
  sharp: record<TipOf<'sharp'>>({ kind: word('sharp') }),
  flat: record<TipOf<'flat'>>({ kind: word('flat'), width: length }),
  radius: record<TipOf<'radius'>>({ kind: word('radius'), radius: length }),
});

export const cutterShape: Shape<Cutter> = record<Cutter>({
  name: string,
  angle,
  tip,
  diameter: optional(length),
  topSpeed: optional(positiveNumber),
});

export const feedShape: Shape<FeedFacts> = record<FeedFacts>({
  name: string,
  perDetent: positiveLength,
  lostDetents: count,
  perDetentStandard: unsignedLength,
  touchOff: optional(positiveLength),
});

export const caliperShape: Shape<CaliperFacts> = record<CaliperFacts>({
  name: string,
  limitOfError: unsignedLength,
  step: unsignedLength,
  jawLand: optional(length),
});

const learned = record<Lessons>({ shift: length, spread: unsignedLength, reasons: list(string) });
const measuring = record<Measuring>({ tolerance: length, leastTops: countFrom(1), tilt: angle });
const bounds = record<FitBounds>({ runningFrom: length, looseFrom: length });

const season = record<SeasonWanted>({ from: humidity, to: humidity });

export const setupShape: Shape<Setup> = record<Setup>({
  name: string,
  wood: optional(string),
  lidWood: optional(string),
  fit: word('threaded', 'plain'),
  pitch: pitchShape,
  starts: countFrom(1),
  cutter: cutterShape,
  depth: record<Setup['depth']>({ female: length, male: length }),
  bored: word('lid', 'body'),
  wanted: length,
  season: optional(season),
  bounds,
  unit: word('mm', 'in'),
  caliper: caliperShape,
  feed: optional(feedShape),
  plannedBore: optional(length),
  engagedLength: optional(length),
  hardens: flag,
  measuring: optional(measuring),
  learned: optional(learned),
});
