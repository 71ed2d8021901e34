// What a capture answers, and why: the shapes only.
import type { Length, LengthUnit, Millis } from '../units.ts';
import type { Contribution } from './uncertainty.ts';

/** Why a capture is doubtful, with the evidence. */
export type Doubt =
  | { readonly kind: 'no-readings' }
  | { readonly kind: 'not-rocked'; readonly readings: number }
  | { readonly kind: 'too-few-tops'; readonly found: number; readonly needed: number }
  | {
      readonly kind: 'tops-disagree';
      readonly agreeing: number;
      readonly needed: number;
      readonly spread: Length;
    }
  | { readonly kind: 'top-beyond'; readonly agreeing: number; readonly beyond: Length }
  | { readonly kind: 'drifting'; readonly change: Length; readonly tops: number }
  | { readonly kind: 'unit-changed'; readonly from: LengthUnit; readonly to: LengthUnit }
  | { readonly kind: 'too-many-bad-readings'; readonly bad: number; readonly of: number };

/** What the turner can do about it. */
export type Advice =
  | 'connect'
  | 'rock'
  | 'rock-more'
  | 'rock-slower'
  | 'seat-and-rock-again'
  | 'let-settle'
  | 'keep-unit'
  | 'check-cable';

export interface Agreed {
  readonly state: 'agreed';
  readonly diameter: Length;
  /** Of the diameter as this caliper shows it: agreement, resolution and tilt; the caliper's own limit of error is apart. */
  readonly standardUncertainty: Length;
  readonly degreesOfFreedom: number;
  /** Agreement, resolution and tilt, which make up `standardUncertainty`. */
  readonly contributions: readonly Contribution[];
  /** The caliper's limit of error as a rectangle: not within `standardUncertainty`. */
  readonly caliper: Contribution;
  readonly tops: number;
  readonly agreeing: number;
  /** Largest less smallest of the agreeing tops. */
  readonly spread: Length;
  readonly tiltTakenOff: Length;
}

export interface Doubtful {
  readonly state: 'doubtful';
  readonly reason: Doubt;
  readonly advice: Advice;
  readonly tops: number;
  readonly agreeing: number;
  readonly spread: Length | null;
}

export interface Rocking {
  readonly state: 'rocking';
  readonly live: Length;
  readonly tops: number;
  readonly agreeing: number;
  readonly spread: Length | null;
}

export type Verdict = { readonly state: 'waiting' } | Rocking | Agreed | Doubtful;

/** One turning point, for the drawing of the trace. */
export interface ShownTop {
  readonly at: Millis;
  readonly value: Length;
  readonly agrees: boolean;
  /** Places, in the capture's readings, of those the top was found from. */
  readonly from: readonly number[];
}
