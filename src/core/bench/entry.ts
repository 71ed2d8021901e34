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

export type Fact =
  | { readonly kind: 'job-begun'; readonly setup: Setup }
  | { readonly kind: 'setup-changed'; readonly setup: Setup }
  | { readonly kind: 'stage-entered'; readonly stage: Stage }
  | {
      readonly kind: 'zero-taken';
      readonly error: Length;
      readonly standard: Length;
      readonly applied: boolean;
      readonly board?: string;
    }
  | { readonly kind: 'ring-taken'; readonly known: Length; readonly measured: Length; readonly land: Length }
  | {
      readonly kind: 'hollow-measured';
      readonly where: 'mouth' | 'depth';
      readonly diameter: Length;
      readonly how: How;
    }
  | {
      readonly kind: 'bore-taken';
      readonly diameter: Length;
      /** Standard uncertainty, or null for a typed value that gave none. */
      readonly standard: Length | null;
      readonly degreesOfFreedom: number | null;
      readonly tops: number;
      readonly agreeing: number;
      readonly spread: Length | null;
      readonly how: How;
      /** Square to `diameter`, where the caliper was turned by a quarter for a second orientation. */
      readonly across?: Length;
      /** Standard uncertainty of `across` by its scatter. */
      readonly acrossStandard?: Length;
    }
  | { readonly kind: 'capture-doubted'; readonly stage: Stage; readonly reason: string }
  | {
      readonly kind: 'target-set';
      readonly bore: Length;
      readonly target: Length;
      readonly low: Length;
      readonly high: Length;
      readonly limit: Length;
      /** For threads as deep as planned: a depth that nobody measured enters it. */
      readonly asPlanned?: boolean;
    }
  | {
      readonly kind: 'spigot-taken';
      readonly diameter: Length;
      readonly how: How;
      readonly fit: FitWord;
      readonly clearance: Length;
      /** Fit and clearance are those of threads as deep as planned: a depth that nobody measured enters them. */
      readonly asPlanned?: boolean;
      /** Square to `diameter`, where it was measured. */
      readonly across?: Length;
      /** At its end, where that was measured; `diameter` is at its shoulder then. */
      readonly end?: Length;
    }
  | { readonly kind: 'touched-off'; readonly part: Part; readonly mark: FeedMark }
  | { readonly kind: 'feed-counted'; readonly part: Part; readonly mark: FeedMark }
  | {
      readonly kind: 'depth-voided';
      readonly part: Part;
      readonly why: VoidReason;
    }
  | {
      readonly kind: 'thread-cut';
      readonly part: Part;
      readonly detents: number | null;
      readonly depth: Length;
      readonly proven: boolean;
    }
  /** One stroke of a chaser held by hand. */
  | { readonly kind: 'stroke'; readonly part: Part }
  | {
      readonly kind: 'thread-chased';
      readonly part: Part;
      /** Counted since the job began. */
      readonly strokes: number;
      /** How its depth is known: by the crest's flat, by strokes since a flat, or not at all before the trial. */
      readonly how: 'flat' | 'strokes' | 'trial';
      /** Radial, below the crest as it is; null where it is not known. */
      readonly depth: Length | null;
      /** It lies within plus or minus this. */
      readonly within: Length | null;
      readonly flat?: Length;
    }
  /** The spigot measured again over the crests of its thread, where those are cut too. */
  | { readonly kind: 'crests-measured'; readonly diameter: Length; readonly how: How }
  | { readonly kind: 'hardened'; readonly part: Part }
  | {
      readonly kind: 'trial-made';
      readonly verdict: FitWord;
      readonly clearance: Length | null;
      readonly standard: Length | null;
    }
  | { readonly kind: 'crests-relieved'; readonly part: Part }
  | {
      readonly kind: 'grain-seen';
      readonly angle: Angle;
      readonly trim: Length;
      readonly part: 'lid' | 'body';
    }
  | { readonly kind: 'note-added'; readonly text: string }
  | { readonly kind: 'job-renamed'; readonly name: string }
  | { readonly kind: 'job-closed'; readonly how: 'runs' | 'given-up' | 'untried' }
  | { readonly kind: 'job-reopened' }
  | { readonly kind: 'job-removed' }
  | { readonly kind: 'job-restored' }
  | { readonly kind: 'undone'; readonly entry: string };

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

/** Facts that the machine writes by itself; undo passes over them. */
export const isAutomatic = (fact: Fact): boolean =>
  fact.kind === 'stage-entered' ||
  fact.kind === 'feed-counted' ||
  fact.kind === 'depth-voided' ||
  fact.kind === 'undone' ||
  fact.kind === 'target-set';

/** As much of an id as tells it from others: ids begin with their time, and these thirteen characters go down to the millisecond. */
export const shortId = (id: string): string => id.slice(0, 13);
