// One caliper reading as the program keeps it: the value, and what it was before it became a number.
import { inches, type Length, type LengthUnit, type Millis, mm } from '../units.ts';

export interface Reading {
  readonly value: Length;
  /** The unit it was shown in on the caliper, or typed in. */
  readonly unit: LengthUnit;
  /** What one step of the last digit was worth: the device's own precision. */
  readonly step: Length;
  /** The digits as received. */
  readonly text: string;
  /** When: the board's milliseconds where there is a board, else the host's or the trace's. */
  readonly at: Millis;
}

/** The worth of one step of the last digit written, but never finer than a caliper's own 0.01 mm or 0.0005 in. */
export function stepOf(text: string, unit: LengthUnit): Length {
  const decimals = /\.(\d+)$/.exec(text)?.[1]?.length ?? 0;
  const written = 10 ** -decimals;
  return unit === 'mm' ? mm(Math.max(written, 0.01)) : inches(Math.max(written, 0.0005));
}
