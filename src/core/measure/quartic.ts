// A quartic by weighted least squares, with a prior for its coefficients; plain loops, since it runs for every peak.

/** The prior of one coefficient: its mean, and one over its variance (0 for nothing known). */
export interface Prior {
  readonly mean: number;
  readonly weight: number;
}

const SIZE = 5;

/** The posterior of the coefficients c0 + c1 t + ... + c4 t^4: their mean and covariance, and what follows from them. */
export class Quartic {
  readonly #coefficients: Float64Array;
  readonly #covariance: Float64Array;
  /** The variance at a time is a polynomial of the eighth degree in it: the sums of the covariance's skew diagonals. */
  readonly #variance: Float64Array;

  constructor(coefficients: Float64Array, covariance: Float64Array) {
    this.#coefficients = coefficients;
    this.#covariance = covariance;
    this.#variance = skewSums(covariance);
  }

  at(t: number): number {
    return polynomial(this.#coefficients, t);
  }

  slopeAt(t: number): number {
    let slope = 0;
    for (let k = SIZE - 1; k > 0; k--) slope = slope * t + k * (this.#coefficients[k] ?? 0);
    return slope;
  }

  varianceAt(t: number): number {
    return polynomial(this.#variance, t);
  }

  covarianceAt(t: number, other: number): number {
    let sum = 0;
    for (let i = SIZE - 1; i >= 0; i--) {
      let row = 0;
      for (let j = SIZE - 1; j >= 0; j--) row = row * other + (this.#covariance[i * SIZE + j] ?? 0);
      sum = sum * t + row;
    }
    return sum;
  }
}

function polynomial(coefficients: Float64Array, t: number): number {
  let sum = 0;
  for (let k = coefficients.length - 1; k >= 0; k--) sum = sum * t + (coefficients[k] ?? 0);
  return sum;
}

function skewSums(matrix: Float64Array): Float64Array {
  const sums = new Float64Array(2 * SIZE - 1);
  for (let i = 0; i < SIZE; i++)
    for (let j = 0; j < SIZE; j++) sums[i + j] = (sums[i + j] ?? 0) + (matrix[i * SIZE + j] ?? 0);
  return sums;
}

/**
 * The posterior from heights at times, each weighed by one over its variance, and from five priors (generalised least squares
 * with a normal prior: C = (X'WX + P)^-1, b = C (X'Wy + P m); textbook). Null when the system cannot be solved.
 */
export function quarticFit(
  times: Float64Array,
  heights: Float64Array,
  weights: Float64Array,
  priors: readonly Prior[],
): Quartic | null {
  const moments = new Float64Array(2 * SIZE - 1);
  const right = new Float64Array(SIZE);
  for (let i = 0; i < times.length; i++) {
    const [t, height] = [times[i] ?? 0, heights[i] ?? 0];
    let power = weights[i] ?? 0;
    for (let k = 0; k < moments.length; k++, power *= t) {
      moments[k] = (moments[k] ?? 0) + power;
      if (k < SIZE) right[k] = (right[k] ?? 0) + power * height;
    }
  }
  const normal = new Float64Array(SIZE * SIZE);
  for (let i = 0; i < SIZE; i++) {
    const { mean = 0, weight = 0 } = priors[i] ?? {};
    right[i] = (right[i] ?? 0) + weight * mean;
    for (let j = 0; j < SIZE; j++) normal[i * SIZE + j] = (moments[i + j] ?? 0) + (i === j ? weight : 0);
  }
  return invert(normal) ? new Quartic(applied(normal, right), normal) : null;
}

function applied(matrix: Float64Array, vector: Float64Array): Float64Array {
  const product = new Float64Array(SIZE);
  for (let i = 0; i < SIZE; i++)
    for (let j = 0; j < SIZE; j++)
      product[i] = (product[i] ?? 0) + (matrix[i * SIZE + j] ?? 0) * (vector[j] ?? 0);
  return product;
}

/** Inverts a symmetric positive definite matrix in place by Gauss and Jordan's elimination; false when it has no inverse. */
function invert(matrix: Float64Array): boolean {
  for (let column = 0; column < SIZE; column++) {
    const own = column * SIZE;
    const pivot = matrix[own + column] ?? 0;
    if (!(pivot > 0) || !Number.isFinite(pivot)) return false;
    matrix[own + column] = 1;
    for (let j = 0; j < SIZE; j++) matrix[own + j] = (matrix[own + j] ?? 0) / pivot;
    for (let i = 0; i < SIZE; i++) if (i !== column) eliminate(matrix, i * SIZE, own, column);
  }
  return true;
}

/** Takes the pivot's row from another, so that the column is nothing there. */
function eliminate(matrix: Float64Array, line: number, own: number, column: number): void {
  const factor = matrix[line + column] ?? 0;
  matrix[line + column] = 0;
  for (let j = 0; j < SIZE; j++) matrix[line + j] = (matrix[line + j] ?? 0) - factor * (matrix[own + j] ?? 0);
}
