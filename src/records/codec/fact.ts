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
type TipOf<K extends Tip['kind']> = Extract<Tip, { kind: K }>;

const given = kinds<Given>({
  tpi: record<Extract<Given, { kind: 'tpi' }>>({ kind: word('tpi'), threads: positiveNumber }),
  metric: record<Extract<Given, { kind: 'metric' }>>({ kind: word('metric') }),
});

const pitchShape: Shape<Pitch> = record<Pitch>({ length: positiveLength, given });

const tip = kinds<Tip>({
  sharp: record<TipOf<'sharp'>>({ kind: word('sharp') }),
  flat: record<TipOf<'flat'>>({ kind: word('flat'), width: anyLength }),
  radius: record<TipOf<'radius'>>({ kind: word('radius'), radius: anyLength }),
});

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

type FactOf<K extends Fact['kind']> = Extract<Fact, { kind: K }>;

const how = word('rocked', 'read', 'typed');
const part = word('female', 'male');
const fit = word('seized', 'tight', 'running', 'loose');
const stage = word(...STAGES);
const mark = record<FeedMark>({ total: whole, board: optional(string), at: time });

const shapes: { readonly [K in Fact['kind']]: Shape<FactOf<K>> } = {
  'job-begun': record<FactOf<'job-begun'>>({ kind: word('job-begun'), setup: setupShape }),
  'setup-changed': record<FactOf<'setup-changed'>>({ kind: word('setup-changed'), setup: setupShape }),
  'stage-entered': record<FactOf<'stage-entered'>>({ kind: word('stage-entered'), stage }),
  'zero-taken': record<FactOf<'zero-taken'>>({
    kind: word('zero-taken'),
    error: anyLength,
    standard: unsignedLength,
    applied: flag,
    board: optional(string),
  }),
  'ring-taken': record<FactOf<'ring-taken'>>({
    kind: word('ring-taken'),
    known: anyLength,
    measured: anyLength,
    land: anyLength,
  }),
  'hollow-measured': record<FactOf<'hollow-measured'>>({
    kind: word('hollow-measured'),
    where: word('mouth', 'depth'),
    diameter: anyLength,
    how,
  }),
  'bore-taken': record<FactOf<'bore-taken'>>({
    kind: word('bore-taken'),
    diameter: anyLength,
    standard: nullable(unsignedLength),
    degreesOfFreedom: nullable(freedom),
    tops: count,
    agreeing: count,
    spread: nullable(unsignedLength),
    how,
    across: optional(anyLength),
  }),
  'capture-doubted': record<FactOf<'capture-doubted'>>({
    kind: word('capture-doubted'),
    stage,
    reason: string,
  }),
  'target-set': record<FactOf<'target-set'>>({
    kind: word('target-set'),
    bore: anyLength,
    target: anyLength,
    low: anyLength,
    high: anyLength,
    limit: anyLength,
  }),
  'spigot-taken': record<FactOf<'spigot-taken'>>({
    kind: word('spigot-taken'),
    diameter: anyLength,
    how,
    fit,
    clearance: anyLength,
    across: optional(anyLength),
  }),
  'touched-off': record<FactOf<'touched-off'>>({ kind: word('touched-off'), part, mark }),
  'feed-counted': record<FactOf<'feed-counted'>>({ kind: word('feed-counted'), part, mark }),
  'depth-voided': record<FactOf<'depth-voided'>>({
    kind: word('depth-voided'),
    part,
    why: word('restart', 'overrun', 'other-board', 'impossible'),
  }),
  'thread-cut': record<FactOf<'thread-cut'>>({
    kind: word('thread-cut'),
    part,
    detents: nullable(count),
    depth: anyLength,
    proven: flag,
  }),
  hardened: record<FactOf<'hardened'>>({ kind: word('hardened'), part }),
  'trial-made': record<FactOf<'trial-made'>>({
    kind: word('trial-made'),
    verdict: fit,
    clearance: nullable(anyLength),
    standard: nullable(unsignedLength),
  }),
  'crests-relieved': record<FactOf<'crests-relieved'>>({ kind: word('crests-relieved'), part }),
  'grain-seen': record<FactOf<'grain-seen'>>({
    kind: word('grain-seen'),
    angle,
    trim: anyLength,
    part: word('lid', 'body'),
  }),
  'note-added': record<FactOf<'note-added'>>({ kind: word('note-added'), text: string }),
  'job-renamed': record<FactOf<'job-renamed'>>({ kind: word('job-renamed'), name: string }),
  'job-closed': record<FactOf<'job-closed'>>({
    kind: word('job-closed'),
    how: word('runs', 'given-up', 'untried'),
  }),
  'job-reopened': record<FactOf<'job-reopened'>>({ kind: word('job-reopened') }),
  'job-removed': record<FactOf<'job-removed'>>({ kind: word('job-removed') }),
  'job-restored': record<FactOf<'job-restored'>>({ kind: word('job-restored') }),
  undone: record<FactOf<'undone'>>({ kind: word('undone'), entry: string }),
};

export const factShape: Shape<Fact> = kinds<Fact>(shapes);

/** The kinds this program knows; rows of any other kind are kept but not used. */
export const KNOWN_FACTS: ReadonlySet<string> = new Set(Object.keys(shapes));
