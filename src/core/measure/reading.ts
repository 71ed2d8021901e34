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
  const point = text.lastIndexOf('.');
  const decimals = point < 0 ? 0 : text.length - point - 1;
  if (unit === 'mm') return decimals === 2 ? FINEST : mm(Math.max(10 ** -decimals, FINEST));
  return inches(Math.max(10 ** -decimals, 0.0005));
}

const FINEST = mm(0.01);
