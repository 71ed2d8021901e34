// Weighted least squares of a quartic with what is known beforehand of its coefficients: five unknowns, solved directly.

/** One observation: its row of the design, what was seen, and one over its variance. */
export interface Observation {
  readonly row: readonly number[];
  readonly seen: number;
  readonly weight: number;
}

/** What is known of one coefficient beforehand: its mean, and one over its variance (0 for nothing known). */
export interface Prior {
  readonly mean: number;
  readonly weight: number;
}

export interface Estimate {
  readonly coefficients: readonly number[];
  readonly covariance: readonly (readonly number[])[];
}

export const dot = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  for (const [place, x] of a.entries()) sum += x * (b[place] ?? 0);
  return sum;
};

/** The row's variance under a covariance: row' C row. */
export const varianceAlong = (row: readonly number[], covariance: readonly (readonly number[])[]): number =>
  dot(
    row,
    covariance.map((line) => dot(line, row)),
  );

/**
 * The posterior mean and covariance of the coefficients (generalised least squares with a normal prior:
 * C = (X'WX + P)^-1, b = C (X'Wy + P m); textbook). Null when the system cannot be solved.
 */
export function estimate(observations: readonly Observation[], priors: readonly Prior[]): Estimate | null {
  const normal = priors.map((prior, i) =>
    priors.map(
      (_, j) =>
        observations.reduce((sum, o) => sum + o.weight * (o.row[i] ?? 0) * (o.row[j] ?? 0), 0) +
        (i === j ? prior.weight : 0),
    ),
  );
  const right = priors.map(
    (prior, i) =>
      observations.reduce((sum, o) => sum + o.weight * (o.row[i] ?? 0) * o.seen, 0) +
      prior.weight * prior.mean,
  );
  const covariance = inverse(normal);
  return covariance && { covariance, coefficients: covariance.map((line) => dot(line, right)) };
}

/** Inverse of a symmetric positive definite matrix by Gauss and Jordan's elimination; null when it has none. */
export function inverse(matrix: readonly (readonly number[])[]): number[][] | null {
  const size = matrix.length;
  const rows = matrix.map((line, i) => [...line, ...line.map((_, j) => (i === j ? 1 : 0))]);
  for (const [column, pivotRow] of rows.entries()) {
    const pivot = pivotRow[column] ?? 0;
    if (!(pivot > 0) || !Number.isFinite(pivot)) return null;
    for (const [place, x] of pivotRow.entries()) pivotRow[place] = x / pivot;
    for (const [other, line] of rows.entries()) {
      const factor = other === column ? 0 : (line[column] ?? 0);
      if (factor !== 0)
        for (const [place, x] of pivotRow.entries()) line[place] = (line[place] ?? 0) - factor * x;
    }
  }
  return rows.map((line) => line.slice(size));
}
