// Each kind of fact and a job's setup in JSON: lengths under keys that end in Mm, angles in Deg.
import { type Fact, type FeedMark, STAGES } from '../../core/bench/entry.ts';
import type { Setup } from '../../core/bench/setup.ts';
import * as is from './shape.ts';

/** A part of a setup, named so that every one of its fields must be there. */
type Of<K extends keyof Setup> = NonNullable<Setup[K]>;

export const setupShape = is.record<Setup>({
  name: is.string,
  wood: is.optional(is.string),
  lidWood: is.optional(is.string),
  fit: is.word('threaded', 'plain'),
  pitch: is.record<Of<'pitch'>>({
    length: is.positiveLength,
    given: is.kinds<Of<'pitch'>['given']>({ tpi: { threads: is.positiveNumber }, metric: {} }),
  }),
  starts: is.countFrom(1),
  cutter: is.record<Of<'cutter'>>({
    name: is.string,
    angle: is.angle,
    tip: is.kinds<Of<'cutter'>['tip']>({
      sharp: {},
      flat: { width: is.anyLength },
      radius: { radius: is.anyLength },
    }),
    diameter: is.optional(is.anyLength),
    topSpeed: is.optional(is.positiveNumber),
  }),
  depth: is.record<Of<'depth'>>({ female: is.anyLength, male: is.anyLength }),
  bored: is.word('lid', 'body'),
  wanted: is.anyLength,
  season: is.optional(
    is.record<Of<'season'>>({ from: is.humidity, to: is.humidity, remains: is.optional(is.anyLength) }),
  ),
  bounds: is.record<Of<'bounds'>>({ runningFrom: is.anyLength, looseFrom: is.anyLength }),
  unit: is.word('mm', 'in'),
  caliper: is.record<Of<'caliper'>>({
    name: is.string,
    limitOfError: is.unsignedLength,
    step: is.unsignedLength,
    jawLand: is.optional(is.anyLength),
  }),
  feed: is.optional(
    is.record<Of<'feed'>>({
      name: is.string,
      perDetent: is.positiveLength,
      lostDetents: is.count,
      perDetentStandard: is.unsignedLength,
      perDetentFreedom: is.optional(is.freedom),
      touchOff: is.optional(is.positiveLength),
    }),
  ),
  byHand: is.optional(is.flag),
  plannedBore: is.optional(is.anyLength),
  engagedLength: is.optional(is.anyLength),
  hardens: is.flag,
  measuring: is.optional(
    is.record<Of<'measuring'>>({ tolerance: is.anyLength, leastTops: is.countFrom(1), tilt: is.angle }),
  ),
  learned: is.optional(
    is.record<Of<'learned'>>({
      shift: is.anyLength,
      mean: is.optional(is.anyLength),
      spread: is.unsignedLength,
      reasons: is.list(is.string),
    }),
  ),
});

const how = is.word('rocked', 'read', 'typed');
const part = is.word('female', 'male');
const fit = is.word('seized', 'tight', 'running', 'loose');
const stage = is.word(...STAGES);
const mark = is.record<FeedMark>({ total: is.whole, board: is.optional(is.string), at: is.time });

/** Every field of every kind of fact. */
const FACTS: is.FieldsByKind<Fact> = {
  'job-begun': { setup: setupShape },
  'setup-changed': { setup: setupShape },
  'stage-entered': { stage },
  'zero-taken': {
    error: is.anyLength,
    standard: is.unsignedLength,
    applied: is.flag,
    board: is.optional(is.string),
  },
  'ring-taken': { known: is.anyLength, measured: is.anyLength, land: is.anyLength },
  'hollow-measured': { where: is.word('mouth', 'depth'), diameter: is.anyLength, how },
  'bore-taken': {
    diameter: is.anyLength,
    standard: is.nullable(is.unsignedLength),
    degreesOfFreedom: is.nullable(is.freedom),
    tops: is.count,
    agreeing: is.count,
    spread: is.nullable(is.unsignedLength),
    how,
    across: is.optional(is.anyLength),
    acrossStandard: is.optional(is.unsignedLength),
  },
  'capture-doubted': { stage, reason: is.string },
  'target-set': {
    bore: is.anyLength,
    target: is.anyLength,
    low: is.anyLength,
    high: is.anyLength,
    limit: is.anyLength,
    asPlanned: is.optional(is.flag),
  },
  'spigot-taken': {
    diameter: is.anyLength,
    how,
    fit,
    clearance: is.anyLength,
    asPlanned: is.optional(is.flag),
    across: is.optional(is.anyLength),
    end: is.optional(is.anyLength),
  },
  'touched-off': { part, mark },
  'feed-counted': { part, mark },
  'depth-voided': { part, why: is.word('restart', 'overrun', 'other-board', 'impossible') },
  'thread-cut': { part, detents: is.nullable(is.count), depth: is.anyLength, proven: is.flag },
  stroke: { part },
  'thread-chased': {
    part,
    strokes: is.count,
    how: is.word('flat', 'strokes', 'trial'),
    depth: is.nullable(is.unsignedLength),
    within: is.nullable(is.unsignedLength),
    flat: is.optional(is.unsignedLength),
  },
  'crests-measured': { diameter: is.anyLength, how },
  hardened: { part },
  'trial-made': {
    verdict: fit,
    clearance: is.nullable(is.anyLength),
    standard: is.nullable(is.unsignedLength),
  },
  'crests-relieved': { part },
  'grain-seen': { angle: is.angle, trim: is.anyLength, part: is.word('lid', 'body') },
  'note-added': { text: is.string },
  'job-renamed': { name: is.string },
  'job-closed': { how: is.word('runs', 'given-up', 'untried') },
  'job-reopened': {},
  'job-removed': {},
  'job-restored': {},
  undone: { entry: is.string },
};

export const factShape = is.kinds<Fact>(FACTS);

/** The kinds this program knows; rows of any other kind are kept but not used. */
export const KNOWN_FACTS: ReadonlySet<string> = new Set(Object.keys(FACTS));
