// Readings: one as the program keeps it, with what it was before it became a number; and the growing list that a capture keeps them in.
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

/**
 * A growing list that may be kept and compared: adding returns a new list and costs the same however long it is.
 * The first `length` of `shared` are the list. Later versions of one list share the array, which only ever grows
 * behind the end of every version that exists; adding to an older version copies it.
 */
export interface Series<T> {
  readonly length: number;
  readonly shared: readonly T[];
}

export const emptySeries = <T>(): Series<T> => ({ length: 0, shared: [] });

/** The list with one more at its end; `series` itself stays as it was. */
export function append<T>(series: Series<T>, item: T): Series<T> {
  const shared =
    series.shared.length === series.length ? series.shared : series.shared.slice(0, series.length);
  (shared as T[]).push(item);
  return { length: series.length + 1, shared };
}

/** The item at a place counted from 0, undefined outside the list. */
export const itemAt = <T>(series: Series<T>, place: number): T | undefined =>
  place < series.length ? series.shared[place] : undefined;

/** The items from `start` up to, not including, `end`. */
export const between = <T>(series: Series<T>, start: number, end: number = series.length): readonly T[] =>
  series.shared.slice(Math.max(0, start), Math.min(end, series.length));
