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

/** Plain loops here and below: these run for every top, and closures cost several times as much. */
export function dot(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/** The row's variance under a covariance: row' C row. */
export function varianceAlong(row: readonly number[], covariance: readonly (readonly number[])[]): number {
  let sum = 0;
  for (let i = 0; i < row.length; i++) sum += (row[i] ?? 0) * dot(covariance[i] ?? [], row);
  return sum;
}

/**
 * The posterior mean and covariance of the coefficients (generalised least squares with a normal prior:
 * C = (X'WX + P)^-1, b = C (X'Wy + P m); textbook). Null when the system cannot be solved.
 */
export function estimate(observations: readonly Observation[], priors: readonly Prior[]): Estimate | null {
  const normal = priors.map((prior, i) => priors.map((_, j) => (i === j ? prior.weight : 0)));
  const right = priors.map((prior) => prior.weight * prior.mean);
  for (const { row, seen, weight } of observations) {
    for (let i = 0; i < row.length; i++) {
      const weighted = weight * (row[i] ?? 0);
      const line = normal[i] ?? [];
      right[i] = (right[i] ?? 0) + weighted * seen;
      for (let j = 0; j < row.length; j++) line[j] = (line[j] ?? 0) + weighted * (row[j] ?? 0);
    }
  }
  const covariance = inverse(normal);
  return covariance && { covariance, coefficients: covariance.map((line) => dot(line, right)) };
}

/** Inverse of a symmetric positive definite matrix by Gauss and Jordan's elimination, in place; null when it has none. */
export function inverse(matrix: readonly (readonly number[])[]): number[][] | null {
  const rows = matrix.map((line) => [...line]);
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    const own = rows[column] ?? [];
    const pivot = own[column] ?? 0;
    if (!(pivot > 0) || !Number.isFinite(pivot)) return null;
    own[column] = 1;
    for (let j = 0; j < size; j++) own[j] = (own[j] ?? 0) / pivot;
    for (let i = 0; i < size; i++) {
      if (i === column) continue;
      const line = rows[i] ?? [];
      const factor = line[column] ?? 0;
      line[column] = 0;
      for (let j = 0; j < size; j++) line[j] = (line[j] ?? 0) - factor * (own[j] ?? 0);
    }
  }
  return rows;
}
