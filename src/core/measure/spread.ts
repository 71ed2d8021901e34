// Mean and standard deviation of repeated measurements, updated one by one so that large offsets lose no digits.

/** What repeated measurements say together. */
export interface Spread {
  readonly count: number;
  readonly mean: number;
  /** Standard deviation with count - 1; 0 for a single value. */
  readonly deviation: number;
}

/**
 * Mean and deviation by the stable update of Welford (1962): exact where a sum of squares returns 0.
 * Throws a RangeError for no values, or one that is no number.
 */
export function spreadOf(values: readonly number[]): Spread {
  let [count, mean, squares] = [0, 0, 0];
  for (const value of values) {
    const off = value - mean;
    count += 1;
    mean += off / count;
    squares += off * (value - mean);
  }
  if (count === 0 || !Number.isFinite(squares)) throw new RangeError(`no spread of ${count} values`);
  return { count, mean, deviation: count > 1 ? Math.sqrt(squares / (count - 1)) : 0 };
}
