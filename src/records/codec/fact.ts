// How each kind of fact stands in JSON.
import { type Fact, type FeedMark, STAGES } from '../../core/bench/entry.ts';
import { setupShape } from './setup.ts';
import {
  angle,
  count,
  flag,
  freedom,
  kinds,
  length,
  nullable,
  optional,
  record,
  type Shape,
  string,
  time,
  unsignedLength,
  whole,
  word,
} from './shape.ts';

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
    error: length,
    standard: unsignedLength,
    applied: flag,
    board: optional(string),
  }),
  'ring-taken': record<FactOf<'ring-taken'>>({
    kind: word('ring-taken'),
    known: length,
    measured: length,
    land: length,
  }),
  'hollow-measured': record<FactOf<'hollow-measured'>>({
    kind: word('hollow-measured'),
    where: word('mouth', 'depth'),
    diameter: length,
    how,
  }),
  'bore-taken': record<FactOf<'bore-taken'>>({
    kind: word('bore-taken'),
    diameter: length,
    standard: nullable(unsignedLength),
    degreesOfFreedom: nullable(freedom),
    tops: count,
    agreeing: count,
    spread: nullable(unsignedLength),
    how,
  }),
  'capture-doubted': record<FactOf<'capture-doubted'>>({
    kind: word('capture-doubted'),
    stage,
    reason: string,
  }),
  'target-set': record<FactOf<'target-set'>>({
    kind: word('target-set'),
    bore: length,
    target: length,
    low: length,
    high: length,
    limit: length,
  }),
  'spigot-taken': record<FactOf<'spigot-taken'>>({
    kind: word('spigot-taken'),
    diameter: length,
    how,
    fit,
    clearance: length,
  }),
  'touched-off': record<FactOf<'touched-off'>>({ kind: word('touched-off'), part, mark }),
  'feed-counted': record<FactOf<'feed-counted'>>({ kind: word('feed-counted'), part, mark }),
  'depth-voided': record<FactOf<'depth-voided'>>({
    kind: word('depth-voided'),
    part,
    why: word('restart', 'overrun', 'other-board'),
  }),
  'thread-cut': record<FactOf<'thread-cut'>>({
    kind: word('thread-cut'),
    part,
    detents: nullable(count),
    depth: length,
    proven: flag,
  }),
  hardened: record<FactOf<'hardened'>>({ kind: word('hardened'), part }),
  'trial-made': record<FactOf<'trial-made'>>({
    kind: word('trial-made'),
    verdict: fit,
    clearance: nullable(length),
    standard: nullable(unsignedLength),
  }),
  'crests-relieved': record<FactOf<'crests-relieved'>>({ kind: word('crests-relieved'), part }),
  'grain-seen': record<FactOf<'grain-seen'>>({
    kind: word('grain-seen'),
    angle,
    trim: length,
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

/** The kinds this program knows; rows of any other are kept and passed over. */
export const KNOWN_FACTS: ReadonlySet<string> = new Set(Object.keys(shapes));
