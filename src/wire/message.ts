// What one line can be: a short union in which noise has its names too.
import type { ButtonName, Discard } from '../core/bench/event.ts';
import type { LengthUnit } from '../core/units.ts';

/** The protocol version this program speaks. */
export const VERSION = '1';

interface Checked {
  /** 0 to 65535, one more for each line, then 0 again. */
  readonly seq: number;
  /** The board's milliseconds since its start, 32 bits, wrapping. */
  readonly ms: number;
  /** True where the line holds more than this program knows. */
  readonly more: boolean;
}

export type Message =
  | (Checked & {
      readonly kind: 'hello';
      readonly firmware: string;
      readonly board: string;
      readonly parts: readonly string[];
    })
  | (Checked & { readonly kind: 'other-version'; readonly version: string })
  | (Checked & {
      readonly kind: 'caliper';
      readonly text: string;
      /** What the text says, in its unit. */
      readonly value: number;
      readonly unit: LengthUnit;
    })
  | (Checked & { readonly kind: 'feed'; readonly total: number })
  | (Checked & { readonly kind: 'button'; readonly button: ButtonName; readonly down: boolean })
  | (Checked & { readonly kind: 'fault'; readonly code: string })
  | (Checked & { readonly kind: 'unknown' });

/** A bare number from a board that checks nothing; the unit is null where none was given. */
export interface Bare {
  readonly kind: 'bare';
  readonly text: string;
  readonly unit: LengthUnit | null;
}

/** A line that isn't read, and why. */
export interface Discarded {
  readonly kind: 'discarded';
  readonly why: Discard;
}

export type Heard = Message | Bare | Discarded;
