// Each kind of fact and a job's setup in JSON: lengths under keys that end in Mm, angles in Deg.
import { type Fact, type FeedMark, STAGES } from '../../core/bench/entry.ts';
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
  anyLength,
  count,
  countFrom,
  type FieldsByKind,
  flag,
  freedom,
  humidity,
  kinds,
  list,
  nullable,
  optional,
  positiveLength,
  positiveNumber,
  record,
  type Shape,
  string,
  time,
  unsignedLength,
  whole,
  word,
} from './shape.ts';

type Given = Pitch['given'];

const given = kinds<Given>({ tpi: { threads: positiveNumber }, metric: {} });

const pitchShape: Shape<Pitch> = record<Pitch>({ length: positiveLength, given });

const tip = kinds<Tip>({ sharp: {}, flat: { width: anyLength }, radius: { radius: anyLength } });

const cutterShape: Shape<Cutter> = record<Cutter>({
  name: string,
  angle,
  tip,
  diameter: optional(anyLength),
  topSpeed: optional(positiveNumber),
});

const feedShape: Shape<FeedFacts> = record<FeedFacts>({
  name: string,
  perDetent: positiveLength,
  lostDetents: count,
  perDetentStandard: unsignedLength,
  perDetentFreedom: optional(freedom),
  touchOff: optional(positiveLength),
});

const caliperShape: Shape<CaliperFacts> = record<CaliperFacts>({
  name: string,
  limitOfError: unsignedLength,
  step: unsignedLength,
  jawLand: optional(anyLength),
});

const learned = record<Lessons>({
  shift: anyLength,
  mean: optional(anyLength),
  spread: unsignedLength,
  reasons: list(string),
});
const measuring = record<Measuring>({ tolerance: anyLength, leastTops: countFrom(1), tilt: angle });
const bounds = record<FitBounds>({ runningFrom: anyLength, looseFrom: anyLength });

const season = record<SeasonWanted>({ from: humidity, to: humidity, remains: optional(anyLength) });

export const setupShape: Shape<Setup> = record<Setup>({
  name: string,
  wood: optional(string),
  lidWood: optional(string),
  fit: word('threaded', 'plain'),
  pitch: pitchShape,
  starts: countFrom(1),
  cutter: cutterShape,
  depth: record<Setup['depth']>({ female: anyLength, male: anyLength }),
  bored: word('lid', 'body'),
  wanted: anyLength,
  season: optional(season),
  bounds,
  unit: word('mm', 'in'),
  caliper: caliperShape,
  feed: optional(feedShape),
  plannedBore: optional(anyLength),
  engagedLength: optional(anyLength),
  hardens: flag,
  measuring: optional(measuring),
  learned: optional(learned),
});

const how = word('rocked', 'read', 'typed');
const part = word('female', 'male');
const fit = word('seized', 'tight', 'running', 'loose');
const stage = word(...STAGES);
const mark = record<FeedMark>({ total: whole, board: optional(string), at: time });

/** Every field of every kind of fact. */
const FACTS: FieldsByKind<Fact> = {
  'job-begun': { setup: setupShape },
  'setup-changed': { setup: setupShape },
  'stage-entered': { stage },
  'zero-taken': { error: anyLength, standard: unsignedLength, applied: flag, board: optional(string) },
  'ring-taken': { known: anyLength, measured: anyLength, land: anyLength },
  'hollow-measured': { where: word('mouth', 'depth'), diameter: anyLength, how },
  'bore-taken': {
    diameter: anyLength,
    standard: nullable(unsignedLength),
    degreesOfFreedom: nullable(freedom),
    tops: count,
    agreeing: count,
    spread: nullable(unsignedLength),
    how,
    across: optional(anyLength),
  },
  'capture-doubted': { stage, reason: string },
  'target-set': { bore: anyLength, target: anyLength, low: anyLength, high: anyLength, limit: anyLength },
  'spigot-taken': { diameter: anyLength, how, fit, clearance: anyLength, across: optional(anyLength) },
  'touched-off': { part, mark },
  'feed-counted': { part, mark },
  'depth-voided': { part, why: word('restart', 'overrun', 'other-board', 'impossible') },
  'thread-cut': { part, detents: nullable(count), depth: anyLength, proven: flag },
  hardened: { part },
  'trial-made': { verdict: fit, clearance: nullable(anyLength), standard: nullable(unsignedLength) },
  'crests-relieved': { part },
  'grain-seen': { angle, trim: anyLength, part: word('lid', 'body') },
  'note-added': { text: string },
  'job-renamed': { name: string },
  'job-closed': { how: word('runs', 'given-up', 'untried') },
  'job-reopened': {},
  'job-removed': {},
  'job-restored': {},
  undone: { entry: string },
};

export const factShape: Shape<Fact> = kinds<Fact>(FACTS);

/** The kinds this program knows; rows of any other kind are kept but not used. */
export const KNOWN_FACTS: ReadonlySet<string> = new Set(Object.keys(FACTS));
