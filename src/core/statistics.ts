// Means, medians and spreads of repeated measurements.
import jStat from 'jstat';

/** What repeated measurements say together. */
export interface Spread {
  readonly count: number;
  readonly mean: number;
  /** Standard deviation with count - 1; 0 for a single value. */
  readonly deviation: number;
}

/** The mean. Throws a RangeError for no values, or one that isn't a number. */
export function meanOf(values: readonly number[]): number {
  const mean = jStat.mean(values);
  if (!Number.isFinite(mean)) throw new RangeError(`no mean of ${values.length} values`);
  return mean;
}

/** Mean and standard deviation. Throws a RangeError for no values, or one that isn't a number. */
export function spreadOf(values: readonly number[]): Spread {
  const mean = meanOf(values);
  return { count: values.length, mean, deviation: values.length > 1 ? jStat.stdev(values, true) : 0 };
}

/** The middle one of the values, or the mean of the two in the middle. Throws a RangeError for no values. */
export function medianOf(values: readonly number[]): number {
  if (values.length === 0) throw new RangeError('no median of no values');
  return jStat.median(values);
}

/** Largest less smallest; 0 for a single value. */
export const extentOf = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
