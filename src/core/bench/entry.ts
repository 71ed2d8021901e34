// What a job remembers: rows that are only ever added. A job is what its entries say, folded in order.
import type { VoidReason } from '../thread/depth.ts';
import type { FitWord } from '../thread/fit.ts';
import type { Angle, Length, LengthUnit, Millis } from '../units.ts';
import type { Part, Setup } from './setup.ts';

export const STAGES = [
  'zero',
  'hollow',
  'bore thread',
  'bore size',
  'spigot',
  'spigot thread',
  'trial',
  'record',
] as const;
export type Stage = (typeof STAGES)[number];

/** One reading as kept: as received, with what it meant and when. */
export interface KeptReading {
  readonly text: string;
  readonly unit: LengthUnit;
  readonly step: Length;
  readonly value: Length;
  readonly at: Millis;
  /** The line it came on, or empty for a typed one. */
  readonly raw: string;
}

/** How a diameter was found. */
export type How = 'rocked' | 'read' | 'typed';

/** Where a feed count came from: a board's total with the board and its time, or a key. */
export interface FeedMark {
  readonly total: number;
  readonly board?: string;
  readonly at: Millis;
}

/** A fact that says no more than its name. */
type Bare = object;

/** What each fact says. */
interface Facts {
  'job-begun': { setup: Setup };
  'setup-changed': { setup: Setup };
  'stage-entered': { stage: Stage };
  'zero-taken': { error: Length; standard: Length; applied: boolean; board?: string };
  'ring-taken': { known: Length; measured: Length; land: Length };
  'hollow-measured': { where: 'mouth' | 'depth'; diameter: Length; how: How };
  'bore-taken': {
    diameter: Length;
    /** Standard uncertainty, or null for a typed value that gave none. */
    standard: Length | null;
    degreesOfFreedom: number | null;
    tops: number;
    agreeing: number;
    spread: Length | null;
    how: How;
    /** Square to `diameter`, where the caliper was turned by a quarter for a second orientation. */
    across?: Length;
    /** Standard uncertainty of `across` by its scatter. */
    acrossStandard?: Length;
  };
  'capture-doubted': { stage: Stage; reason: string };
  /** `asPlanned`: for threads as deep as planned; a depth that nobody measured enters it. */
  'target-set': {
    bore: Length;
    target: Length;
    low: Length;
    high: Length;
    limit: Length;
    asPlanned?: boolean;
  };
  'spigot-taken': {
    diameter: Length;
    how: How;
    fit: FitWord;
    clearance: Length;
    /** Fit and clearance are those of threads as deep as planned: a depth that nobody measured enters them. */
    asPlanned?: boolean;
    /** Square to `diameter`, where it was measured. */
    across?: Length;
    /** At its end, where that was measured; `diameter` is at its shoulder then. */
    end?: Length;
  };
  'touched-off': { part: Part; mark: FeedMark };
  'feed-counted': { part: Part; mark: FeedMark };
  'depth-voided': { part: Part; why: VoidReason };
  'thread-cut': { part: Part; detents: number | null; depth: Length; proven: boolean };
  /** One stroke of a chaser held by hand. */
  stroke: { part: Part };
  'thread-chased': {
    part: Part;
    /** Counted since the job began. */
    strokes: number;
    /** How its depth is known: by the crest's flat, by strokes since a flat, or not at all before the trial. */
    how: 'flat' | 'strokes' | 'trial';
    /** Radial, below the crest as it is; null where it is not known. */
    depth: Length | null;
    /** It lies within plus or minus this. */
    within: Length | null;
    flat?: Length;
  };
  /** The spigot measured again over the crests of its thread, where those are cut too. */
  'crests-measured': { diameter: Length; how: How };
  hardened: { part: Part };
  'trial-made': { verdict: FitWord; clearance: Length | null; standard: Length | null };
  'crests-relieved': { part: Part };
  'grain-seen': { angle: Angle; trim: Length; part: 'lid' | 'body' };
  'note-added': { text: string };
  'job-renamed': { name: string };
  'job-closed': { how: 'runs' | 'given-up' | 'untried' };
  'job-reopened': Bare;
  'job-removed': Bare;
  'job-restored': Bare;
  undone: { entry: string };
}

export type FactOf<K extends keyof Facts> = Readonly<{ kind: K } & Facts[K]>;
export type Fact = { [K in keyof Facts]: FactOf<K> }[keyof Facts];

/** One row of a job's log. Ids are given by the edge, so that core stays without chance and clock. */
export interface Entry {
  readonly id: string;
  readonly job: string;
  /** The bench's clock when it was written: milliseconds since 1970, for people; order is the log's own. */
  readonly at: number;
  readonly fact: Fact;
  /** The raw readings behind the fact, in the order heard. */
  readonly readings: readonly KeptReading[];
}

const AUTOMATIC: ReadonlySet<Fact['kind']> = new Set([
  'stage-entered',
  'feed-counted',
  'depth-voided',
  'undone',
  'target-set',
]);
/** Facts that the machine writes by itself; undo passes over them. */
export const isAutomatic = ({ kind }: Fact): boolean => AUTOMATIC.has(kind);

/** As much of an id as tells it from others: ids begin with their time, and these thirteen characters go down to the millisecond. */
export const shortId = (id: string): string => id.slice(0, 13);
