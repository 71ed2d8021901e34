// Weighted least squares of a quartic with what is known beforehand of its coefficients: five unknowns, solved directly.

/** One number for each unknown, or for each column of a row. Typed arrays and plain loops: all of this runs for every top. */
export type Row = Float64Array;

/** One observation: its row of the design, what was seen, and one over its variance. */
export interface Observation {
  readonly row: Row;
  readonly seen: number;
  readonly weight: number;
}

/** What is known of one coefficient beforehand: its mean, and one over its variance (0 for nothing known). */
export interface Prior {
  readonly mean: number;
  readonly weight: number;
}

export interface Estimate {
  readonly coefficients: Row;
  readonly covariance: readonly Row[];
}

export function dot(a: Row, b: Row): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/** The row's variance under a covariance: row' C row. */
export function varianceAlong(row: Row, covariance: readonly Row[]): number {
  let sum = 0;
  for (let i = 0; i < row.length; i++) {
    const line = covariance[i];
    if (line) sum += (row[i] ?? 0) * dot(line, row);
  }
  return sum;
}

/**
 * The posterior mean and covariance of the coefficients (generalised least squares with a normal prior:
 * C = (X'WX + P)^-1, b = C (X'Wy + P m); textbook). Null when the system cannot be solved.
 */
export function estimate(observations: readonly Observation[], priors: readonly Prior[]): Estimate | null {
  const right = Float64Array.from(priors, (prior) => prior.weight * prior.mean);
  const normal = priors.map((prior, i) => {
    const line = new Float64Array(priors.length);
    line[i] = prior.weight;
    return line;
  });
  for (const observation of observations) addTo(normal, right, observation);
  const covariance = inverse(normal);
  return (
    covariance && { covariance, coefficients: Float64Array.from(covariance, (line) => dot(line, right)) }
  );
}

/** Adds an observation to the normal equations, in place. */
function addTo(normal: readonly Row[], right: Row, { row, seen, weight }: Observation): void {
  for (let i = 0; i < row.length; i++) {
    const weighted = weight * (row[i] ?? 0);
    right[i] = (right[i] ?? 0) + weighted * seen;
    const line = normal[i];
    if (!line) continue;
    for (let j = 0; j < row.length; j++) line[j] = (line[j] ?? 0) + weighted * (row[j] ?? 0);
  }
}

/** Inverse of a symmetric positive definite matrix by Gauss and Jordan's elimination; null when it has none. */
export function inverse(matrix: readonly Row[]): readonly Row[] | null {
  const rows = matrix.map((line) => line.slice());
  const size = rows.length;
  for (let column = 0; column < size; column++) {
    const own = rows[column];
    const pivot = own?.[column] ?? 0;
    if (!own || !(pivot > 0) || !Number.isFinite(pivot)) return null;
    own[column] = 1;
    for (let j = 0; j < size; j++) own[j] = (own[j] ?? 0) / pivot;
    for (let i = 0; i < size; i++) {
      const line = rows[i];
      if (i === column || !line) continue;
      const factor = line[column] ?? 0;
      line[column] = 0;
      for (let j = 0; j < size; j++) line[j] = (line[j] ?? 0) - factor * (own[j] ?? 0);
    }
  }
  return rows;
}
