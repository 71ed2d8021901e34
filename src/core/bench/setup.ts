// A job's setup: decided before the first cut, kept with the job, changed only by a further entry.
import type { Pitch } from '../quantity.ts';
import type { FitBounds } from '../thread/fit.ts';
import type { Tip } from '../thread/form.ts';
import type { Part } from '../thread/pair.ts';
import type { Angle, Humidity, Length, LengthUnit } from '../units.ts';

export type { Part };

/** The cutter as facts: what it leaves, how large it is, how fast its maker lets it turn. */
export interface Cutter {
  readonly name: string;
  readonly angle: Angle;
  readonly tip: Tip;
  readonly diameter?: Length;
  /** The maker's top speed in turns a minute. */
  readonly topSpeed?: number;
}

/** The feed as facts. Without one, depths are typed or keyed. */
export interface FeedFacts {
  readonly name: string;
  /** Radial feed of one detent. */
  readonly perDetent: Length;
  /** Detents that move nothing after a reversal. */
  readonly lostDetents: number;
  /** Standard uncertainty of perDetent. */
  readonly perDetentStandard: Length;
  /** Its degrees of freedom: few where few travels were measured; endless when left out. */
  readonly perDetentFreedom?: number;
  /** A touch-off is known to lie within this, plus or minus; one detent where the turner gave no figure. */
  readonly touchOff?: Length;
}

export interface CaliperFacts {
  readonly name: string;
  readonly limitOfError: Length;
  readonly step: Length;
  /** Width of the straight land on the inside jaws, once found with a ring. */
  readonly jawLand?: Length;
}

/** The lessons of earlier trials on this setup when the job began; kept so that the target can be explained later. */
export interface Lessons {
  /** What the target is shifted by. */
  readonly shift: Length;
  /** How far a clearance is expected to come out over the computed one; jobs begun before this was kept expect the shift. */
  readonly mean?: Length;
  readonly spread: Length;
  readonly reasons: readonly string[];
}

/** How strict a rocking capture is. */
export interface Measuring {
  readonly tolerance: Length;
  readonly leastTops: number;
  readonly tilt: Angle;
}

/** The range of room humidity that a lid must run in, drier end first. */
export interface SeasonWanted {
  /** The clearance that is to remain in the worst air of the range; jobs begun before this was kept have none. */
  readonly remains?: Length;
  readonly from: Humidity;
  readonly to: Humidity;
}

export interface Setup {
  readonly name: string;
  /** Ids of rows of the wood table, or free text that is in no table. */
  readonly wood?: string;
  readonly lidWood?: string;
  readonly fit: 'threaded' | 'plain';
  readonly pitch: Pitch;
  readonly starts: number;
  readonly cutter: Cutter;
  /** Planned radial depths of the two grooves; the depth really cut replaces them. */
  readonly depth: { readonly [part in Part]: Length };
  readonly bored: 'lid' | 'body';
  /** Wanted diametral clearance; negative for a plain lid held by interference. */
  readonly wanted: Length;
  /** What the wanted clearance was worked out for, where a season was asked for. */
  readonly season?: SeasonWanted;
  readonly bounds: FitBounds;
  readonly unit: LengthUnit;
  readonly caliper: CaliperFacts;
  readonly feed?: FeedFacts;
  /** Both threads are chased by hand: no feed, no counted depth. */
  readonly byHand?: boolean;
  readonly plannedBore?: Length;
  readonly engagedLength?: Length;
  readonly hardens: boolean;
  /** Left out: the capture's own defaults. */
  readonly measuring?: Measuring;
  readonly learned?: Lessons;
}

/** Detents known to give a full thread at a pitch. */
export interface Proven {
  readonly pitch: Pitch;
  readonly detents: number;
}

/** A feed as the kit has it: with the detents that gave a pair which ran. */
export interface KitFeed extends FeedFacts {
  readonly proven?: readonly Proven[];
}

/** The turner's equipment, as the new-job form offers it. */
export interface Kit {
  readonly calipers: readonly CaliperFacts[];
  readonly cutters: readonly Cutter[];
  readonly feeds: readonly KitFeed[];
  readonly unit: LengthUnit;
  readonly bounds: FitBounds;
  readonly wanted: Length;
  readonly measuring?: Measuring;
}
