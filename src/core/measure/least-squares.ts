// Weighted least squares of a quartic with what is known beforehand of its coefficients: five unknowns, solved directly.
// All of this runs for every top, hence plain loops over flat matrices.

/** A vector of the unknowns, or a square matrix of them row by row. */
export type Numbers = ArrayLike<number>;

/** One observation: its row of the design, what was seen, and one over its variance. */
export interface Observation {
  readonly row: Numbers;
  readonly seen: number;
  readonly weight: number;
}

/** What is known of one coefficient beforehand: its mean, and one over its variance (0 for nothing known). */
export interface Prior {
  readonly mean: number;
  readonly weight: number;
}

export interface Estimate {
  readonly coefficients: Numbers;
  /** Square, row by row. */
  readonly covariance: Numbers;
}

export function dot(a: Numbers, b: Numbers): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

/** The matrix, square and row by row, times a vector. */
export function times(matrix: Numbers, vector: Numbers): Numbers {
  const size = vector.length;
  const product = new Float64Array(size);
  for (let i = 0; i < size; i++) {
    let sum = 0;
    for (let j = 0; j < size; j++) sum += (matrix[i * size + j] ?? 0) * (vector[j] ?? 0);
    product[i] = sum;
  }
  return product;
}

/** The row's variance under a covariance: row' C row. */
export function varianceAlong(row: Numbers, covariance: Numbers): number {
  const size = row.length;
  let variance = 0;
  for (let i = 0; i < size; i++) {
    let sum = 0;
    for (let j = 0; j < size; j++) sum += (covariance[i * size + j] ?? 0) * (row[j] ?? 0);
    variance += (row[i] ?? 0) * sum;
  }
  return variance;
}

/**
 * The posterior mean and covariance of the coefficients (generalised least squares with a normal prior:
 * C = (X'WX + P)^-1, b = C (X'Wy + P m); textbook). Null when the system cannot be solved.
 */
export function estimate(observations: readonly Observation[], priors: readonly Prior[]): Estimate | null {
  const size = priors.length;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (const [i, { mean, weight }] of priors.entries()) {
    normal[i * size + i] = weight;
    right[i] = weight * mean;
  }
  for (const observation of observations) add(observation, normal, right);
  return invert(normal, size) ? { covariance: normal, coefficients: times(normal, right) } : null;
}

/** Adds an observation to the normal equations. */
function add({ row, seen, weight }: Observation, normal: Float64Array, right: Float64Array): void {
  const size = right.length;
  for (let i = 0; i < size; i++) {
    const weighted = weight * (row[i] ?? 0);
    right[i] = (right[i] ?? 0) + weighted * seen;
    for (let j = 0; j < size; j++)
      normal[i * size + j] = (normal[i * size + j] ?? 0) + weighted * (row[j] ?? 0);
  }
}

/** Inverts a symmetric positive definite matrix in place by Gauss and Jordan's elimination; false when it has no inverse. */
function invert(matrix: Float64Array, size: number): boolean {
  for (let column = 0; column < size; column++) {
    const own = column * size;
    const pivot = matrix[own + column] ?? 0;
    if (!(pivot > 0) || !Number.isFinite(pivot)) return false;
    matrix[own + column] = 1;
    for (let j = 0; j < size; j++) matrix[own + j] = (matrix[own + j] ?? 0) / pivot;
    for (let i = 0; i < size; i++) if (i !== column) eliminate(matrix, i * size, own, size, column);
  }
  return true;
}

/** Takes the pivot's row from another, so that the column is nothing there. */
function eliminate(matrix: Float64Array, line: number, own: number, size: number, column: number): void {
  const factor = matrix[line + column] ?? 0;
  matrix[line + column] = 0;
  for (let j = 0; j < size; j++) matrix[line + j] = (matrix[line + j] ?? 0) - factor * (matrix[own + j] ?? 0);
}
